package ohmprint.app.record;

import java.io.IOException;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.app.measure.LevelDrift;
import ohmprint.circuit.Divider;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.estimation.LoadedTakes;
import ohmprint.estimation.UncertaintyPredictor;
import ohmprint.estimation.UncertaintyPredictor.ExpectedSession;
import ohmprint.estimation.UncertaintyPredictor.PredictedBand;
import ohmprint.estimation.UncertaintyPredictor.Prediction;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.Route;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.stat.descriptive.rank.Median;
import org.jspecify.annotations.Nullable;

/**
 * What a trial with the highest load shows.
 *
 * @param acceptable whether takes at this level can be used
 * @param clipped whether the microphone's channel clipped: then the true peak is not known, what is stated of it is the
 *     least that it can be, and nothing is predicted
 * @param peakDbfs highest sample, dBFS; the headroom is its negative
 * @param gainChangeDb suggested change of the gain in dB; 0 when it is well set; at least so much when it clipped
 * @param noiseDbfs level of the silence before the sound, dBFS; NaN without one
 * @param signalToNoiseDb median over the bands of signal over noise per bin, dB; NaN when the noise is not known
 * @param predicted predicted uncertainty, or null when the noise is not known or the take clipped
 * @param findings what was found
 */
public record LevelReport(
        boolean acceptable,
        boolean clipped,
        double peakDbfs,
        double gainChangeDb,
        double noiseDbfs,
        double signalToNoiseDb,
        @Nullable Predicted predicted,
        List<Finding> findings) {
    /** Room for what a warm-up or a standing wave may add: common practice, no source. */
    private static final double WANTED_PEAK_DBFS = -8;

    private static final double HIGHEST_PEAK_DBFS = -3;
    private static final double LOWEST_PEAK_DBFS = -20;
    private static final double LEAST_PEAK_DBFS = -40;
    private static final double CLIPPED_DB = 6;
    private static final double SAME_BAND = 1.0001;

    /** Copies the list. */
    public LevelReport {
        findings = List.copyOf(findings);
    }

    /**
     * Judges a trial with the highest load.
     *
     * @param loads the loads of the whole session
     * @param source the expected source
     * @throws IOException if the take cannot be read
     */
    static LevelReport of(RecordedTake trial, List<Load> loads, SourceModel source) throws IOException {
        List<Finding> findings = trial.findings(null);
        double peak = trial.peakDbfs();
        boolean clipped = trial.seen().clipping().isPresent();
        double change = 0;
        if (clipped) {
            change = Math.min(-CLIPPED_DB, WANTED_PEAK_DBFS - peak);
        } else if ((peak > HIGHEST_PEAK_DBFS || peak < LOWEST_PEAK_DBFS) && Double.isFinite(peak)) {
            change = WANTED_PEAK_DBFS - peak;
        }
        double[] ratios = IntStream.range(0, trial.bands().bands().size())
                .mapToDouble(trial.bands()::ratio)
                .filter(Double::isFinite)
                .map(r -> 10 * Math.log10(Math.max(r, 1e-3)))
                .toArray();
        return new LevelReport(
                trial.usable(findings) && !clipped && peak > LEAST_PEAK_DBFS,
                clipped,
                peak,
                change,
                trial.seen().leadInDbfs(),
                new Median().evaluate(ratios),
                ratios.length == 0 || clipped ? null : predicted(trial, loads, source),
                findings);
    }

    private static @Nullable Predicted predicted(RecordedTake trial, List<Load> loads, SourceModel source) {
        InputImpedance input = trial.session().input();
        TakeLevels seen = trial.bands();
        int[] known = IntStream.range(0, seen.bands().size())
                .filter(b -> seen.bands().midband(b) >= input.lowestHz()
                        && seen.bands().midband(b) <= input.highestHz())
                .toArray();
        if (known.length == 0) {
            return null;
        }
        FrequencyBands bands = FrequencyBands.within(
                seen.bands().fraction(),
                seen.bands().midband(known[0]) / SAME_BAND,
                seen.bands().midband(known[known.length - 1]) * SAME_BAND);
        double[] ratios = IntStream.range(0, bands.size())
                .mapToDouble(b -> seen.ratio(known[b])
                        * unloading(
                                source.impedance(bands.midband(b)), trial.take().load(), input, bands.midband(b)))
                .toArray();
        LevelDrift drift = LevelDrift.believed(
                trial.session().levelDriftPercent(),
                trial.take().referenceChannel() == null ? Route.COMMON : Route.REFERENCE);
        ExpectedSession expected = new ExpectedSession(bands, source, b -> ratios[b], seen.seconds());
        Prediction prediction = new UncertaintyPredictor(
                        expected, drift.expecting(loads).priors())
                .predict(new LoadedTakes(loads, input));
        double[] good = prediction.bands().stream()
                .filter(b -> b.u95Percent() < Predicted.LIMIT_PERCENT)
                .mapToDouble(PredictedBand::frequencyHz)
                .toArray();
        return new Predicted(
                prediction.medianPercent(),
                good.length == 0 ? Double.NaN : good[0],
                good.length == 0 ? Double.NaN : good[good.length - 1],
                source.impedance(FrequencyBands.REFERENCE_HZ).abs());
    }

    /** By how much more power a take without a resistor has: {@code |1 + Z·y|²/|1 + Z·Y_in|²}. */
    private static double unloading(Complex ohms, Load load, InputImpedance input, double hz) {
        double db =
                Divider.lossDb(ohms, Divider.admittance(load, input, hz)) - Divider.lossDb(ohms, input.admittance(hz));
        return Math.pow(10, db / 10);
    }

    /**
     * Predicted relative 95 % uncertainty of |Z| of the session with the planned loads.
     *
     * @param medianPercent median over the twelfth octaves
     * @param fromHz lowest midband with less than {@link #LIMIT_PERCENT}, hertz; NaN when none has
     * @param toHz highest such midband, hertz
     * @param expectedOhm the impedance that it was computed for, ohms
     */
    public record Predicted(double medianPercent, double fromHz, double toHz, double expectedOhm) {
        /** What still counts as measured. */
        public static final double LIMIT_PERCENT = 10;
    }
}
