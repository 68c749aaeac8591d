package ohmprint.app.measure;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode.Wording;
import ohmprint.curve.Route;
import ohmprint.estimate.Alignment;
import ohmprint.estimate.BinObservations;
import ohmprint.estimate.LoadedTakes;
import ohmprint.estimate.SourceDrift;
import ohmprint.estimate.StimulusPattern;
import ohmprint.signal.ClockSkew;
import org.jspecify.annotations.Nullable;

/** What is common to all coherent routes once takes are aligned: the residual delay and the source's drift are taken out. */
final class AlignedTakes {
    /** Lowest frequency at which delays are judged, hertz. */
    static final double TIMING_FROM_HZ = 60;
    /** Highest frequency at which delays are judged, hertz. */
    static final double TIMING_TO_HZ = 15_000;

    private final ComparedTakes compared;
    private final LoadedTakes loads;
    private final @Nullable StimulusPattern sweep;
    private final List<Finding> findings;

    /**
     * Takes to be aligned; what is noticed is added to {@code findings}.
     *
     * @param compared the takes
     * @param loads what each of them drives
     * @param sweep the stimulus if it is a sweep that is at hand
     */
    AlignedTakes(ComparedTakes compared, LoadedTakes loads, @Nullable StimulusPattern sweep, List<Finding> findings) {
        this.compared = compared;
        this.loads = loads;
        this.sweep = sweep;
        this.findings = findings;
    }

    /**
     * What takes on one route hold once they lie at the same place.
     *
     * @param reason why the route was taken
     * @param bins what they hold, aligned to whole samples
     * @param kept places of these takes among all of them
     * @param alignment where each take lies
     * @param reference what the reference channels hold, or null without one
     * @param clocks rate of each take against the others where it was looked at, or null
     */
    Observation at(
            Route route,
            String reason,
            BinObservations bins,
            int[] kept,
            Alignment alignment,
            @Nullable BinObservations reference,
            ClockSkew @Nullable [] clocks) {
        int at = indexOf(kept, compared.pivot());
        StimulusPattern passed = clocks != null || reference != null ? null : sweep;
        TakeDelays delays = TakeDelays.of(
                bins,
                loads.only(kept),
                at,
                new TakeDelays.Range(
                        compared.sampleRate(),
                        Math.max(compared.fromHz(), TIMING_FROM_HZ),
                        Math.min(compared.toHz(), TIMING_TO_HZ)),
                clocks == null,
                passed == null ? null : () -> passed.passing(compared.sampleRate()));
        double[] samples = unknown(compared.size());
        double[] ppm = unknown(compared.size());
        for (int k = 0; k < kept.length; k++) {
            samples[kept[k]] = alignment.lags()[kept[k]] + delays.seconds()[k] * compared.sampleRate();
            if (clocks != null) {
                ppm[kept[k]] = clocks[kept[k]].ppm();
            }
            String file = compared.file(kept[k]);
            delays.finding(k, file, compared.sampleRate()).ifPresent(findings::add);
        }
        ClockFindings.of(compared.takes(), kept, clocks, delays).ifPresent(findings::add);
        noteLeftOut(kept);
        SourceDrift drift = reference == null ? null : SourceDrift.of(reference.advanced(delays::at), at);
        double[] driftDb = drift == null ? unknown(compared.size()) : drift.driftDb();
        return new Observation(
                route,
                reason,
                drift == null ? delays.cells() : delays.cells(drift),
                kept,
                samples,
                driftDb,
                ppm,
                delays.largestUncertainty(),
                delays.largestUncertainty() * compared.sampleRate() < TakeDelays.UNTIMED_SAMPLES,
                List.copyOf(findings));
    }

    private void noteLeftOut(int[] kept) {
        for (int k = 0; k < compared.size(); k++) {
            if (indexOf(kept, k) < 0) {
                findings.add(Wording.ANOTHER_SOUND.of(compared.file(k)));
            }
        }
    }

    /** Where a number stands, or −1. */
    static int indexOf(int[] values, int wanted) {
        return IntStream.range(0, values.length)
                .filter(i -> values[i] == wanted)
                .findFirst()
                .orElse(-1);
    }

    /** So many numbers that are not known. */
    static double[] unknown(int n) {
        double[] out = new double[n];
        Arrays.fill(out, Double.NaN);
        return out;
    }
}
