package ohmprint.app.library;

import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.BandBudget;
import ohmprint.curve.BandValue;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import org.jspecify.annotations.Nullable;

/**
 * ln|Z| of a curve with its standard uncertainty at any frequency, interpolated over ln f between neighbouring bands; never
 * across a gap.
 */
final class LogCurve {
    private static final double COVERAGE_FACTOR = 1.96;
    private static final double SAME = 1e-6;

    private final List<Point> points;
    private final double widest;

    private LogCurve(List<Point> points, double widest) {
        this.points = points;
        this.widest = widest;
    }

    /**
     * A value at one frequency.
     *
     * @param x ln of the frequency in hertz
     * @param log ln|Z|, |Z| in ohms
     * @param own standard uncertainty of ln|Z| by noise, drift and timing
     * @param bench standard uncertainty of ln|Z| by loads and input
     */
    record Point(double x, double log, double own, double bench) {
        /** Standard uncertainty of ln|Z| by everything. */
        double combined() {
            return Math.hypot(own, bench);
        }
    }

    static LogCurve of(ImpedanceCurve curve) {
        List<Point> points = new ArrayList<>();
        for (BandValue v : curve.values()) {
            if (v.isMeasured() && v.magnitudeOhm() > 0 && v.magnitudeU95Ohm() >= 0) {
                points.add(point(v));
            }
        }
        double step = Math.log(FrequencyBands.OCTAVE_RATIO) / curve.bands().fraction();
        return new LogCurve(points, step * 1.01);
    }

    private static Point point(BandValue v) {
        double u = v.magnitudeU95Ohm() / COVERAGE_FACTOR / v.magnitudeOhm();
        BandBudget budget = v.budget();
        double share = 0;
        if (budget != null && budget.combined() > 0) {
            share = Math.hypot(budget.loads(), budget.input()) / budget.combined();
        }
        return new Point(
                Math.log(v.frequencyHz()), Math.log(v.magnitudeOhm()), u * Math.sqrt(1 - share * share), u * share);
    }

    /** The value at a frequency, or null where the curve says nothing. */
    @Nullable
    Point at(double hz) {
        double x = Math.log(hz);
        int low = 0;
        int high = points.size() - 1;
        while (low < high) {
            int middle = (low + high) / 2;
            if (points.get(middle).x() < x - SAME) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        if (points.isEmpty()) {
            return null;
        }
        Point right = points.get(low);
        if (Math.abs(right.x() - x) < SAME) {
            return right;
        }
        if (low == 0 || right.x() < x) {
            return null;
        }
        Point left = points.get(low - 1);
        double step = right.x() - left.x();
        if (step > widest) {
            return null;
        }
        double s = (x - left.x()) / step;
        return new Point(
                x,
                left.log() + s * (right.log() - left.log()),
                left.own() + s * (right.own() - left.own()),
                left.bench() + s * (right.bench() - left.bench()));
    }
}
