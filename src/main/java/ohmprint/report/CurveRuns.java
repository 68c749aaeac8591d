package ohmprint.report;

import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import ohmprint.curve.BandValue;
import ohmprint.curve.ImpedanceCurve;
import org.jfree.data.xy.YIntervalSeries;
import org.jfree.data.xy.YIntervalSeriesCollection;

/**
 * A curve as separate lines, one for each run of neighbouring bands that have a value, so that nothing is drawn across a
 * gap. A band alone becomes a level piece from its lower to its upper edge.
 */
final class CurveRuns {
    private static final double HALF_TURN_DEG = 180;

    private CurveRuns() {}

    /** |Z| in ohms with its 95 % limits, the limits no further than just outside the axis. */
    static YIntervalSeriesCollection magnitude(ImpedanceCurve curve, CurveRanges axis) {
        return lines(
                curve,
                BandValue::magnitudeOhm,
                BandValue::magnitudeU95Ohm,
                Double.POSITIVE_INFINITY,
                new CurveRanges(axis.low() / 2, axis.high() * 2));
    }

    /** Phase in degrees with its 95 % limits; a step of more than half a turn between bands starts another line. */
    static YIntervalSeriesCollection phase(ImpedanceCurve curve, CurveRanges axis) {
        double beyond = axis.high() - axis.low();
        return lines(
                curve,
                BandValue::phaseDeg,
                BandValue::phaseU95Deg,
                HALF_TURN_DEG,
                new CurveRanges(axis.low() - beyond, axis.high() + beyond));
    }

    private static YIntervalSeriesCollection lines(
            ImpedanceCurve curve,
            ToDoubleFunction<BandValue> value,
            ToDoubleFunction<BandValue> u95,
            double largestStep,
            CurveRanges limits) {
        YIntervalSeriesCollection lines = new YIntervalSeriesCollection();
        List<Integer> run = new ArrayList<>();
        double last = Double.NaN;
        for (int i = 0; i < curve.values().size(); i++) {
            BandValue v = curve.values().get(i);
            double y = value.applyAsDouble(v);
            boolean drawn = v.isMeasured() && Double.isFinite(y);
            if (!drawn || Math.abs(y - last) > largestStep) {
                add(lines, curve, run, value, u95, limits);
                run.clear();
            }
            if (drawn) {
                run.add(i);
            }
            last = drawn ? y : Double.NaN;
        }
        add(lines, curve, run, value, u95, limits);
        return lines;
    }

    private static void add(
            YIntervalSeriesCollection lines,
            ImpedanceCurve curve,
            List<Integer> run,
            ToDoubleFunction<BandValue> value,
            ToDoubleFunction<BandValue> u95,
            CurveRanges limits) {
        if (run.isEmpty()) {
            return;
        }
        YIntervalSeries line = new YIntervalSeries(lines.getSeriesCount());
        for (int i : run) {
            BandValue v = curve.values().get(i);
            double y = value.applyAsDouble(v);
            double u = u95.applyAsDouble(v);
            double half = u > 0 ? u : 0;
            double low = Math.max(y - half, limits.low());
            double high = Math.min(y + half, limits.high());
            if (run.size() == 1) {
                line.add(curve.bands().lowerEdge(i), y, low, high);
                line.add(curve.bands().upperEdge(i), y, low, high);
            } else {
                line.add(v.frequencyHz(), y, low, high);
            }
        }
        lines.addSeries(line);
    }
}
