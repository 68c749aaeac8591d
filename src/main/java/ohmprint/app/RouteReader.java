package ohmprint.app;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
import ohmprint.curve.Route;
import ohmprint.estimate.Alignment;
import ohmprint.estimate.BinObservations;
import ohmprint.estimate.CommonObserver;
import ohmprint.estimate.LoadedTakes;
import ohmprint.estimate.Playback;
import ohmprint.estimate.PowerObserver;
import ohmprint.estimate.ReferenceObserver;
import ohmprint.estimate.SourceDrift;
import ohmprint.estimate.StimulusObserver;
import ohmprint.estimate.StimulusPattern;
import ohmprint.estimate.TakeCoherence;
import ohmprint.estimate.TakeRecording;
import ohmprint.estimate.WholeTakes;
import ohmprint.session.Take;
import ohmprint.signal.CircularLag;
import ohmprint.signal.ClockSkew;
import org.jspecify.annotations.Nullable;

/** Reads the takes along one route: alignment, spectra, residual delay, drift of the source, and what was noticed. */
final class RouteReader {
    /** Width of the cells that bins are summed into: 24 within a twelfth of an octave. */
    private static final int CELLS_PER_OCTAVE = 288;

    /** Shortest stretch in common from which takes are compared, seconds. */
    private static final double LEAST_SHARED_SECONDS = 0.3;

    /** Lowest frequency at which delays are judged, hertz. */
    static final double TIMING_FROM_HZ = 60;
    /** Highest frequency at which delays are judged, hertz. */
    static final double TIMING_TO_HZ = 15_000;

    private final List<TakeInspection> takes;
    private final LoadedTakes loads;
    private final @Nullable StimulusPattern sweep;
    private final List<TakeRecording> recordings;
    private final double sampleRate;
    private final double fromHz;
    private final double toHz;
    private final int pivot;
    private final List<Finding> findings;

    /**
     * A reader of these takes; what is noticed is added to {@code findings}.
     *
     * @param loads what each take drives
     * @param sweep the stimulus if it is a sweep that is at hand
     */
    RouteReader(
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
        this.recordings = takes.stream().map(TakeInspection::recording).toList();
        this.sampleRate = takes.get(0).indicators().sampleRate();
        this.fromHz = fromHz;
        this.toHz = toHz;
        this.pivot = pivot;
        this.findings = new ArrayList<>(findings);
    }

    Observation stimulus(
            StimulusObserver observer,
            WholeTakes whole,
            Alignment alignment,
            int[] kept,
            CircularLag at,
            String reason) {
        long onset = recordings.get(pivot).soundStart();
        long start = at.nearest(onset);
        long[] starts =
                Arrays.stream(kept).mapToLong(k -> start + alignment.lags()[k]).toArray();
        WholeTakes used = whole.only(kept);
        List<Take> entries =
                Arrays.stream(kept).mapToObj(k -> takes.get(k).take()).toList();
        StimulusObserver.Observed seen = observer.observe(used, starts);
        findings.addAll(Saturation.findings(entries, seen.thirdHarmonic()));
        return aligned(Route.STIMULUS, reason, seen.bins(), kept, alignment, null, null);
    }

    /** Takes of a repeated sound, or on two clocks. */
    Observation played(Playback playback, Route route, String reason) {
        int[] kept = playback.kept();
        String how = playback.isSummed() ? reason + ", " + periods(playback.periods()) + " are averaged" : reason;
        return aligned(route, how, playback.observe(), kept, playback.alignment(), null, playback.clocks());
    }

    private static String periods(int[] periods) {
        int least = Arrays.stream(periods).min().orElse(0);
        int most = Arrays.stream(periods).max().orElse(0);
        return (least == most ? "" : least + " to ") + most + (most == 1 ? " period" : " periods") + " of it in each";
    }

    /** Position of the takes: by whole spectra when they are at hand or the takes are short, else by streaming. */
    Alignment alignment(@Nullable WholeTakes whole) throws IOException {
        if (whole != null) {
            return whole.align(pivot);
        }
        boolean fit = takes.stream().allMatch(t -> t.indicators().frames() <= WholeTakes.MODERATE);
        return fit ? WholeTakes.of(recordings, sampleRate, 0).align(pivot) : Alignment.of(recordings, pivot);
    }

    @Nullable
    Observation common(Alignment alignment, int[] kept, String reason) throws IOException {
        long[] lags = Arrays.stream(kept).mapToLong(k -> alignment.lags()[k]).toArray();
        if (sharedFrames(kept, lags) < LEAST_SHARED_SECONDS * sampleRate) {
            return null;
        }
        BinObservations bins = new CommonObserver(fromHz, toHz).observe(only(kept), lags);
        int at = indexOf(kept, pivot);
        int[] coherent = IntStream.range(0, kept.length)
                .filter(k -> TakeCoherence.median(bins, k, at) > TakeCoherence.COHERENT)
                .toArray();
        if (coherent.length < 2) {
            return null;
        }
        int[] used = Arrays.stream(coherent).map(k -> kept[k]).toArray();
        return aligned(Route.COMMON, reason, bins.only(coherent), used, alignment, null, null);
    }

    Observation power(String reason) throws IOException, BadInputException {
        int[] all = IntStream.range(0, takes.size()).toArray();
        try {
            BinObservations bins = new PowerObserver(fromHz, toHz).observe(recordings);
            return new Observation(
                    Route.POWER,
                    reason,
                    bins,
                    all,
                    nan(takes.size()),
                    nan(takes.size()),
                    nan(takes.size()),
                    0,
                    true,
                    List.copyOf(findings));
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /**
     * Along the reference channels. Takes of moderate length that hold the same sound are compared with each other, the
     * reference serving to take out the source's drift; otherwise it is averaged within each take.
     */
    Observation reference(@Nullable StimulusObserver stimulus, String reason) throws IOException {
        int[] all = IntStream.range(0, takes.size()).toArray();
        if (takes.stream().allMatch(t -> t.indicators().frames() <= WholeTakes.MODERATE)) {
            WholeTakes whole = WholeTakes.of(recordings, sampleRate, stimulus == null ? 0 : stimulus.length());
            Alignment alignment = whole.align(pivot);
            if (Arrays.stream(all).allMatch(alignment::found)) {
                Observation same = referenceSameSound(stimulus, whole, alignment, all, reason);
                if (same != null) {
                    return same;
                }
            }
        }
        ReferenceObserver.Observed seen = new ReferenceObserver(fromHz, toHz).observe(recordings);
        for (int k = 0; k < takes.size(); k++) {
            if (seen.coherence()[k] < TakeCoherence.COHERENT) {
                findings.add(new Finding(
                        FindingCode.NOT_COHERENT,
                        takes.get(k).take().file(),
                        String.format(
                                Locale.ROOT,
                                "microphone and reference channel share little (median coherence %.2f); check that both"
                                        + " hear the loudspeaker",
                                seen.coherence()[k])));
            }
        }
        double[] drift = Arrays.stream(seen.referenceLevel())
                .map(p -> 10 * Math.log10(p / seen.referenceLevel()[0]))
                .toArray();
        return new Observation(
                Route.REFERENCE,
                reason,
                seen.bins(),
                all,
                nan(takes.size()),
                drift,
                nan(takes.size()),
                0,
                true,
                List.copyOf(findings));
    }

    /** The reference takes out the drift of the source; the takes are compared with each other, without its room notches. */
    private @Nullable Observation referenceSameSound(
            @Nullable StimulusObserver stimulus, WholeTakes whole, Alignment alignment, int[] all, String reason)
            throws IOException {
        List<TakeRecording> references =
                recordings.stream().map(TakeRecording::throughReference).toList();
        CircularLag at = stimulus == null ? null : stimulus.locate(whole, pivot);
        BinObservations microphone;
        BinObservations heard;
        if (stimulus != null && at != null && at.prominence() > CircularLag.STIMULUS_FOUND) {
            long start = at.nearest(recordings.get(pivot).soundStart());
            long[] starts =
                    Arrays.stream(alignment.lags()).map(lag -> start + lag).toArray();
            StimulusObserver.Observed seen = stimulus.observe(whole, starts);
            findings.addAll(
                    Saturation.findings(takes.stream().map(TakeInspection::take).toList(), seen.thirdHarmonic()));
            microphone = seen.bins();
            heard = stimulus.observe(WholeTakes.of(references, sampleRate, stimulus.length()), starts)
                    .bins();
        } else {
            CommonObserver observer = new CommonObserver(fromHz, toHz);
            microphone = observer.observe(recordings, alignment.lags());
            heard = observer.observe(references, alignment.lags());
        }
        for (int k = 0; k < takes.size(); k++) {
            if (TakeCoherence.median(microphone, k, pivot) <= TakeCoherence.COHERENT) {
                return null;
            }
        }
        return aligned(
                Route.REFERENCE, reason + ", and all hold the same sound", microphone, all, alignment, heard, null);
    }

    private Observation aligned(
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
        double[] samples = nan(takes.size());
        double[] ppm = nan(takes.size());
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
        BinObservations advanced = bins.advanced(delays::at);
        SourceDrift drift = reference == null ? null : SourceDrift.of(reference.advanced(delays::at), at);
        BinObservations out = drift == null ? advanced : advanced.dividedBy(drift.gainRe(), drift.gainIm());
        double[] driftDb = drift == null ? nan(takes.size()) : drift.driftDb();
        return new Observation(
                route,
                reason,
                out.merged(CELLS_PER_OCTAVE),
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

    /** Length of the stretch that all these takes hold once aligned, frames. */
    private long sharedFrames(int[] kept, long[] lags) {
        long from = Long.MIN_VALUE;
        long to = Long.MAX_VALUE;
        for (int k = 0; k < kept.length; k++) {
            from = Math.max(from, -lags[k]);
            to = Math.min(to, takes.get(kept[k]).indicators().frames() - lags[k]);
        }
        return to - from;
    }

    private List<TakeRecording> only(int[] kept) {
        return Arrays.stream(kept).mapToObj(recordings::get).toList();
    }

    private static int indexOf(int[] values, int wanted) {
        return IntStream.range(0, values.length)
                .filter(i -> values[i] == wanted)
                .findFirst()
                .orElse(-1);
    }

    private static double[] nan(int n) {
        double[] out = new double[n];
        Arrays.fill(out, Double.NaN);
        return out;
    }
}
