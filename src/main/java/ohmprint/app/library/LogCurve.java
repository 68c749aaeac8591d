package ohmprint.app.library;

import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.BandBudget;
import ohmprint.curve.BandValue;
import ohmprint.curve.CauseOrigin;
import ohmprint.curve.CurveCovariance;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.PredictedValue;
import ohmprint.curve.SharedCause;
import ohmprint.estimate.StudentFactor;
import org.jspecify.annotations.Nullable;

/**
 * ln|Z| of a curve with its standard uncertainty at any frequency, interpolated over ln f between neighbouring bands; never
 * across a gap.
 *
 * <p>The standard uncertainty is that of the budget, and the stated 95 % one divided by it tells the degrees of freedom that it
 * rests on. Without a budget, and where draws made the stated one, it is U95/1.96 and counts as known.
 */
final class LogCurve {
    private static final double SAME = 1e-6;

    private final List<Point> points;
    private final boolean knowsBench;
    private final List<SharedCause> bench;
    private final double widest;

    private LogCurve(List<Point> points, boolean knowsBench, List<SharedCause> bench, double widest) {
        this.points = points;
        this.knowsBench = knowsBench;
        this.bench = bench;
        this.widest = widest;
    }

    /**
     * A value at one frequency.
     *
     * @param x ln of the frequency in hertz
     * @param log ln|Z|, |Z| in ohms
     * @param u standard uncertainty of ln|Z|
     * @param freedom degrees of freedom that this rests on; infinite where it counts as known
     * @param bench what one standard deviation of each cause among loads and input does to ln|Z|, with its sign
     */
    record Point(double x, double log, double u, double freedom, double[] bench) {
        private static Point between(double x, Point left, Point right, double share) {
            double[] bench = new double[left.bench.length];
            for (int c = 0; c < bench.length; c++) {
                bench[c] = left.bench[c] + share * (right.bench[c] - left.bench[c]);
            }
            return new Point(
                    x,
                    left.log + share * (right.log - left.log),
                    left.u + share * (right.u - left.u),
                    Math.min(left.freedom, right.freedom),
                    bench);
        }
    }

    static LogCurve of(ImpedanceCurve curve) {
        CurveCovariance across = curve.covariance();
        List<SharedCause> bench = across == null
                ? List.of()
                : across.causes().stream()
                        .filter(c -> c.origin() == CauseOrigin.LOADS || c.origin() == CauseOrigin.INPUT)
                        .toList();
        List<Point> points = new ArrayList<>();
        for (int b = 0; b < curve.values().size(); b++) {
            BandValue v = curve.values().get(b);
            if (v.isMeasured() && v.magnitudeOhm() > 0 && v.magnitudeU95Ohm() >= 0) {
                points.add(point(v, b, bench));
            }
        }
        double step = Math.log(FrequencyBands.OCTAVE_RATIO) / curve.bands().fraction();
        return new LogCurve(points, across != null, bench, step * 1.01);
    }

    private static Point point(BandValue v, int band, List<SharedCause> bench) {
        double z = v.magnitudeOhm();
        BandBudget budget = v.budget();
        boolean split = budget != null && budget.combined() > 0 && !v.byDraws();
        double u = split && budget != null ? budget.combined() : v.magnitudeU95Ohm() / PredictedValue.COVERAGE;
        double[] effects = bench.stream()
                .mapToDouble(c ->
                        (v.resistanceOhm() * c.resistanceOhm(band) + v.reactanceOhm() * c.reactanceOhm(band)) / (z * z))
                .map(effect -> Double.isNaN(effect) ? 0 : effect)
                .toArray();
        return new Point(
                Math.log(v.frequencyHz()),
                Math.log(z),
                u / z,
                split ? StudentFactor.freedom(v.magnitudeU95Ohm() / u) : Double.POSITIVE_INFINITY,
                effects);
    }

    /** Whether the errors of loads and input are known cause by cause. */
    boolean knowsBench() {
        return knowsBench;
    }

    /**
     * By how much the variance of the difference of two curves is smaller when causes among loads and input that bear the same
     * name are the same: {@code Σ 2·s₁·s₂}, from {@code ‖s₁ − s₂‖² = ‖s₁‖² + ‖s₂‖² − 2·s₁·s₂}. Negative where the same
     * error moves the two to opposite sides.
     *
     * @param own a value of this curve
     * @param other the other curve
     * @param its a value of that
     */
    double sharedVariance(Point own, LogCurve other, Point its) {
        double sum = 0;
        for (int i = 0; i < bench.size(); i++) {
            for (int k = 0; k < other.bench.size(); k++) {
                SharedCause a = bench.get(i);
                SharedCause b = other.bench.get(k);
                if (a.origin() == b.origin() && a.name().equals(b.name())) {
                    sum += 2 * own.bench[i] * its.bench[k];
                }
            }
        }
        return sum;
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
        return Point.between(x, left, right, s);
    }
}
