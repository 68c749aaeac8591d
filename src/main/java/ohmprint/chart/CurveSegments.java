package ohmprint.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import org.jfree.data.xy.YIntervalSeries;
import org.jfree.data.xy.YIntervalSeriesCollection;

/**
 * Values over frequency as separate lines, one for each run of neighbours, so that nothing is drawn across a gap. A value
 * alone becomes a level piece from the lower to the upper edge of its band.
 */
final class CurveSegments {
    private static final double HALF_TURN_DEG = 180;

    private final YIntervalSeriesCollection lines = new YIntervalSeriesCollection();
    private final List<Value> run = new ArrayList<>();

    /** Frequency, edges of the band, value, limits. */
    private record Value(double hz, double fromHz, double toHz, double y, double low, double high) {}

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
        CurveSegments runs = new CurveSegments();
        double last = Double.NaN;
        for (int i = 0; i < curve.values().size(); i++) {
            BandValue v = curve.values().get(i);
            double y = value.applyAsDouble(v);
            boolean drawn = v.isMeasured() && Double.isFinite(y);
            if (!drawn || Math.abs(y - last) > largestStep) {
                runs.gap();
            }
            if (drawn) {
                double u = u95.applyAsDouble(v);
                double half = u > 0 ? u : 0;
                runs.add(
                        v.frequencyHz(),
                        curve.bands().lowerEdge(i),
                        curve.bands().upperEdge(i),
                        y,
                        Math.max(y - half, limits.low()),
                        Math.min(y + half, limits.high()));
            }
            last = drawn ? y : Double.NaN;
        }
        return runs.lines();
    }

    /** Adds a value with its limits, in a band from one frequency to another; the two are alike for a mere point. */
    void add(double hz, double fromHz, double toHz, double y, double low, double high) {
        run.add(new Value(hz, fromHz, toHz, y, low, high));
    }

    /** Ends a line. */
    void gap() {
        if (run.isEmpty()) {
            return;
        }
        YIntervalSeries line = new YIntervalSeries(lines.getSeriesCount());
        Value first = run.get(0);
        if (run.size() == 1 && first.fromHz() < first.toHz()) {
            line.add(first.fromHz(), first.y(), first.low(), first.high());
            line.add(first.toHz(), first.y(), first.low(), first.high());
        } else {
            run.forEach(v -> line.add(v.hz(), v.y(), v.low(), v.high()));
        }
        lines.addSeries(line);
        run.clear();
    }

    /** All lines. */
    YIntervalSeriesCollection lines() {
        gap();
        return lines;
    }
}
