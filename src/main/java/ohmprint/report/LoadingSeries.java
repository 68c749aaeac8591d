package ohmprint.report;

import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.PredictedValue;
import org.jfree.data.xy.YIntervalSeries;
import org.jfree.data.xy.YIntervalSeriesCollection;

/**
 * Predictions as lines, one for each run of neighbouring bands that have a value, each with its 95 % limits. A band alone
 * becomes a level piece from edge to edge.
 */
final class LoadingSeries {
    private LoadingSeries() {}

    /** The value upside down: what a loss is as a level. */
    static List<PredictedValue> asLevels(List<PredictedValue> losses) {
        return losses.stream()
                .map(p -> new PredictedValue(-p.value(), p.u95(), -p.high(), -p.low(), p.hz()))
                .toList();
    }

    static YIntervalSeriesCollection lines(List<PredictedValue> values) {
        YIntervalSeriesCollection lines = new YIntervalSeriesCollection();
        List<PredictedValue> run = new ArrayList<>();
        for (PredictedValue p : values) {
            if (p.isValue()) {
                run.add(p);
            } else {
                add(lines, run);
            }
        }
        add(lines, run);
        return lines;
    }

    private static void add(YIntervalSeriesCollection lines, List<PredictedValue> run) {
        if (run.isEmpty()) {
            return;
        }
        YIntervalSeries line = new YIntervalSeries(lines.getSeriesCount());
        for (PredictedValue p : run) {
            double u = p.u95() > 0 ? p.u95() : 0;
            line.add(p.hz(), p.value(), p.value() - u, p.value() + u);
        }
        if (run.size() == 1) {
            PredictedValue p = run.get(0);
            double half = Math.pow(FrequencyBands.OCTAVE_RATIO, 1 / 48.0);
            double u = p.u95() > 0 ? p.u95() : 0;
            line.clear();
            line.add(p.hz() / half, p.value(), p.value() - u, p.value() + u);
            line.add(p.hz() * half, p.value(), p.value() - u, p.value() + u);
        }
        lines.addSeries(line);
        run.clear();
    }

    /** Decibels that an axis must hold: all values and finite bounds, at least one decibel in all. */
    static CurveRanges decibels(List<List<PredictedValue>> all) {
        double low = 0;
        double high = 0;
        for (List<PredictedValue> values : all) {
            for (PredictedValue p : values) {
                low = Double.isFinite(p.least()) ? Math.min(low, p.least()) : low;
                high = Double.isFinite(p.most()) ? Math.max(high, p.most()) : high;
            }
        }
        double missing = Math.max(0, 1 - (high - low)) / 2;
        double margin = 0.06 * Math.max(1, high - low);
        return new CurveRanges(low - missing - margin, high + missing + margin);
    }
}
