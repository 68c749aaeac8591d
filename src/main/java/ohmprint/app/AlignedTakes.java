package ohmprint.app;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
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
    /** Width of the cells that bins are summed into: 24 within a twelfth of an octave. */
    private static final int CELLS_PER_OCTAVE = 288;

    /** Lowest frequency at which delays are judged, hertz. */
    static final double TIMING_FROM_HZ = 60;
    /** Highest frequency at which delays are judged, hertz. */
    static final double TIMING_TO_HZ = 15_000;

    private final List<TakeInspection> takes;
    private final LoadedTakes loads;
    private final @Nullable StimulusPattern sweep;
    private final double sampleRate;
    private final double fromHz;
    private final double toHz;
    private final int pivot;
    private final List<Finding> findings;

    /**
     * Takes to be compared; what is noticed is added to {@code findings}.
     *
     * @param takes all takes
     * @param loads what each take drives
     * @param sweep the stimulus if it is a sweep that is at hand
     * @param pivot the take that delays are counted from
     * @param fromHz lowest frequency in hertz
     * @param toHz highest frequency in hertz
     */
    AlignedTakes(
            List<TakeInspection> takes,
            LoadedTakes loads,
            @Nullable StimulusPattern sweep,
            int pivot,
            double fromHz,
            double toHz,
            List<Finding> findings) {
        this.takes = takes;
        this.loads = loads;
        this.sweep = sweep;
        this.sampleRate = takes.get(0).indicators().sampleRate();
        this.fromHz = fromHz;
        this.toHz = toHz;
        this.pivot = pivot;
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
        int at = indexOf(kept, pivot);
        StimulusPattern passed = clocks != null || reference != null ? null : sweep;
        TakeDelays delays = TakeDelays.of(
                bins,
                loads.only(kept),
                at,
                new TakeDelays.Range(sampleRate, Math.max(fromHz, TIMING_FROM_HZ), Math.min(toHz, TIMING_TO_HZ)),
                clocks == null,
                passed == null ? null : () -> passed.passing(sampleRate));
        double[] samples = unknown(takes.size());
        double[] ppm = unknown(takes.size());
        for (int k = 0; k < kept.length; k++) {
            samples[kept[k]] = alignment.lags()[kept[k]] + delays.seconds()[k] * sampleRate;
            if (clocks != null) {
                ppm[kept[k]] = clocks[kept[k]].ppm();
            }
            String file = takes.get(kept[k]).take().file();
            delays.finding(k, file, sampleRate).ifPresent(findings::add);
        }
        ClockFindings.of(takes, kept, clocks, delays).ifPresent(findings::add);
        noteLeftOut(kept);
        SourceDrift drift = reference == null ? null : SourceDrift.of(reference.advanced(delays::at), at);
        BinObservations cells = drift == null
                ? bins.merged(CELLS_PER_OCTAVE, delays::at)
                : bins.advanced(delays::at)
                        .dividedBy(drift.gainRe(), drift.gainIm())
                        .merged(CELLS_PER_OCTAVE);
        double[] driftDb = drift == null ? unknown(takes.size()) : drift.driftDb();
        return new Observation(
                route,
                reason,
                cells,
                kept,
                samples,
                driftDb,
                ppm,
                delays.largestUncertainty(),
                delays.largestUncertainty() * sampleRate < TakeDelays.UNTIMED_SAMPLES,
                List.copyOf(findings));
    }

    private void noteLeftOut(int[] kept) {
        for (int k = 0; k < takes.size(); k++) {
            if (indexOf(kept, k) < 0) {
                findings.add(new Finding(
                        FindingCode.NOT_COHERENT,
                        takes.get(k).take().file(),
                        "does not hold the sound of the other takes and is left out; record it again with the same"
                                + " sound"));
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
