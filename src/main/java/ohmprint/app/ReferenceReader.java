package ohmprint.app;

import java.io.IOException;
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
import ohmprint.estimate.ReferenceObserver;
import ohmprint.estimate.StimulusObserver;
import ohmprint.estimate.TakeCoherence;
import ohmprint.estimate.TakeRecording;
import ohmprint.estimate.WholeTakes;
import ohmprint.signal.CircularLag;
import org.jspecify.annotations.Nullable;

/** Reads the takes along the reference channels, which hear the source but not the load. */
final class ReferenceReader {
    private final List<TakeInspection> takes;
    private final List<TakeRecording> recordings;
    private final double sampleRate;
    private final double fromHz;
    private final double toHz;
    private final int pivot;
    private final AlignedTakes aligned;
    private final List<Finding> findings;

    /**
     * A reader; what is noticed is added to {@code findings}.
     *
     * @param takes takes with a reference channel each
     * @param pivot the take that delays are counted from
     * @param fromHz lowest frequency in hertz
     * @param toHz highest frequency in hertz
     * @param aligned for takes that hold the same sound
     */
    ReferenceReader(
            List<TakeInspection> takes,
            int pivot,
            double fromHz,
            double toHz,
            AlignedTakes aligned,
            List<Finding> findings) {
        this.takes = takes;
        this.recordings = takes.stream().map(TakeInspection::recording).toList();
        this.sampleRate = takes.get(0).indicators().sampleRate();
        this.fromHz = fromHz;
        this.toHz = toHz;
        this.pivot = pivot;
        this.aligned = aligned;
        this.findings = findings;
    }

    /**
     * Along the reference channels. Takes of moderate length that hold the same sound are compared with each other, the
     * reference serving to take out the source's drift; otherwise it is averaged within each take.
     *
     * @param stimulus looks for the stimulus where it is at hand
     * @param reason why the route was taken
     */
    Observation read(@Nullable StimulusObserver stimulus, String reason) throws IOException {
        int[] all = IntStream.range(0, takes.size()).toArray();
        if (takes.stream().allMatch(t -> t.indicators().frames() <= WholeTakes.MODERATE)) {
            WholeTakes whole = WholeTakes.of(recordings, sampleRate, stimulus == null ? 0 : stimulus.length());
            Alignment alignment = whole.align(pivot);
            if (Arrays.stream(all).allMatch(alignment::found)) {
                Observation same = sameSound(stimulus, whole, alignment, all, reason);
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
                AlignedTakes.unknown(takes.size()),
                drift,
                AlignedTakes.unknown(takes.size()),
                0,
                true,
                List.copyOf(findings));
    }

    /** The reference takes out the drift of the source; the takes are compared with each other, without its room notches. */
    private @Nullable Observation sameSound(
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
        return aligned.at(
                Route.REFERENCE, reason + ", and all hold the same sound", microphone, all, alignment, heard, null);
    }
}
