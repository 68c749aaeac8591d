package ohmprint.app.record;

import java.util.ArrayList;
import java.util.List;
import ohmprint.app.LevelDrift;
import ohmprint.circuit.Divider;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.curve.Finding;
import ohmprint.curve.FrequencyBands;
import ohmprint.estimate.ExpectedSession;
import ohmprint.estimate.LoadedTakes;
import ohmprint.estimate.Predictor;
import ohmprint.estimate.Priors;
import ohmprint.estimate.TimingCheck;
import ohmprint.signal.TakeIndicators;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.stat.descriptive.rank.Median;
import org.jspecify.annotations.Nullable;

/** What a trial with the highest load says about level, noise and the uncertainty to come. */
final class LevelTrial {
    /** Room for what a warm-up or a standing wave may add: common practice, no source. */
    private static final double WANTED_PEAK_DBFS = -8;

    private static final double HIGHEST_PEAK_DBFS = -3;
    private static final double LOWEST_PEAK_DBFS = -20;
    private static final double LEAST_PEAK_DBFS = -40;
    private static final double CLIPPED_DB = 6;
    private static final double SAME_BAND = 1.0001;

    private LevelTrial() {}

    /**
     * Judges a trial.
     *
     * @param usable whether the take itself is one
     * @param loads the loads of the whole session
     * @param source the expected source
     */
    static LevelReport of(
            RecordedTake trial, boolean usable, List<Finding> findings, List<Load> loads, SourceModel source) {
        TakeIndicators seen = trial.inspection().indicators();
        double peak = 20 * Math.log10(seen.peak());
        boolean clipped = seen.clipping().isPresent();
        double change = 0;
        if (clipped) {
            change = Math.min(-CLIPPED_DB, WANTED_PEAK_DBFS - peak);
        } else if ((peak > HIGHEST_PEAK_DBFS || peak < LOWEST_PEAK_DBFS) && Double.isFinite(peak)) {
            change = WANTED_PEAK_DBFS - peak;
        }
        double[] ratios = java.util.stream.IntStream.range(
                        0, trial.bands().bands().size())
                .mapToDouble(trial.bands()::ratio)
                .filter(Double::isFinite)
                .map(r -> 10 * Math.log10(Math.max(r, 1e-3)))
                .toArray();
        return new LevelReport(
                usable && !clipped && peak > LEAST_PEAK_DBFS,
                peak,
                change,
                seen.leadInDbfs(),
                ratios.length == 0 ? Double.NaN : new Median().evaluate(ratios),
                ratios.length == 0 ? null : predicted(trial, loads, source),
                findings);
    }

    private static LevelReport.@Nullable Predicted predicted(RecordedTake trial, List<Load> loads, SourceModel source) {
        InputImpedance input = trial.session().input();
        LoadedTakes takes = new LoadedTakes(loads, input);
        double gain = trial.take().referenceChannel() == null ? LevelDrift.COMPARED : LevelDrift.REFERENCED;
        Priors priors = new Priors(gain, TimingCheck.ONE_CLOCK_SECONDS);
        FrequencyBands bands = trial.bands().bands();
        List<Double> percents = new ArrayList<>();
        double from = Double.NaN;
        double to = Double.NaN;
        for (int b = 0; b < bands.size(); b++) {
            double hz = bands.midband(b);
            double ratio = trial.bands().ratio(b);
            if (hz < input.lowestHz() || hz > input.highestHz()) {
                continue;
            }
            double percent = Double.POSITIVE_INFINITY;
            if (ratio > 0) {
                double open =
                        ratio * unloading(source.impedance(hz), trial.take().load(), input, hz);
                FrequencyBands one = FrequencyBands.within(bands.fraction(), hz / SAME_BAND, hz * SAME_BAND);
                percent = new Predictor(
                                new ExpectedSession(
                                        one, source, open, trial.bands().seconds()),
                                priors)
                        .predict(takes)
                        .worst()
                        .u95Percent();
            }
            percents.add(percent);
            if (percent < LevelReport.Predicted.LIMIT_PERCENT) {
                from = Double.isNaN(from) ? hz : from;
                to = hz;
            }
        }
        if (percents.isEmpty()) {
            return null;
        }
        double[] sorted =
                percents.stream().mapToDouble(Double::doubleValue).sorted().toArray();
        double ohm = source.impedance(FrequencyBands.REFERENCE_HZ).abs();
        return new LevelReport.Predicted(sorted[sorted.length / 2], from, to, ohm);
    }

    /** By how much more power a take without a resistor has: {@code |1 + Z·y|²/|1 + Z·Y_in|²}. */
    private static double unloading(Complex ohms, Load load, InputImpedance input, double hz) {
        double db =
                Divider.lossDb(ohms, Divider.admittance(load, input, hz)) - Divider.lossDb(ohms, input.admittance(hz));
        return Math.pow(10, db / 10);
    }
}
