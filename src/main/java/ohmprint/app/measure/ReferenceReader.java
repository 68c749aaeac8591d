package ohmprint.app.measure;

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
import ohmprint.estimate.TakeRecording;
import ohmprint.estimate.WholeTakes;
import ohmprint.signal.PhaseTransform.CircularLag;
import org.jspecify.annotations.Nullable;

/** Reads the takes along the reference channels, which hear the source but not the load. */
final class ReferenceReader {
    private final ComparedTakes compared;
    private final AlignedTakes aligned;
    private final List<Finding> findings;

    /**
     * A reader; what is noticed is added to {@code findings}.
     *
     * @param compared takes with a reference channel each
     * @param aligned for takes that hold the same sound
     */
    ReferenceReader(ComparedTakes compared, AlignedTakes aligned, List<Finding> findings) {
        this.compared = compared;
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
        int[] all = IntStream.range(0, compared.size()).toArray();
        if (compared.fit(WholeTakes.MODERATE)) {
            WholeTakes whole = WholeTakes.of(
                    compared.recordings(), compared.sampleRate(), stimulus == null ? 0 : stimulus.length());
            Alignment alignment = whole.align(compared.pivot());
            if (Arrays.stream(all).allMatch(alignment::found)) {
                Observation same = sameSound(stimulus, whole, alignment, all, reason);
                if (same != null) {
                    return same;
                }
            }
        }
        ReferenceObserver.Observed seen =
                new ReferenceObserver(compared.fromHz(), compared.toHz()).observe(compared.recordings());
        for (int k = 0; k < compared.size(); k++) {
            if (seen.coherence()[k] < BinObservations.COHERENT) {
                findings.add(new Finding(
                        FindingCode.NOT_COHERENT,
                        compared.file(k),
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
                AlignedTakes.unknown(compared.size()),
                drift,
                AlignedTakes.unknown(compared.size()),
                0,
                true,
                List.copyOf(findings));
    }

    /** The reference takes out the drift of the source; the takes are compared with each other, without its room notches. */
    private @Nullable Observation sameSound(
            @Nullable StimulusObserver stimulus, WholeTakes whole, Alignment alignment, int[] all, String reason)
            throws IOException {
        List<TakeRecording> references = compared.recordings().stream()
                .map(TakeRecording::throughReference)
                .toList();
        CircularLag at = stimulus == null ? null : stimulus.locate(whole, compared.pivot());
        BinObservations microphone;
        BinObservations heard;
        if (stimulus != null && at != null && at.prominence() > CircularLag.STIMULUS_FOUND) {
            long start = at.nearest(compared.recordings().get(compared.pivot()).soundStart());
            long[] starts =
                    Arrays.stream(alignment.lags()).map(lag -> start + lag).toArray();
            StimulusObserver.Observed seen = stimulus.observe(whole, starts);
            findings.addAll(Saturation.findings(
                    compared.takes().stream().map(TakeInspection::take).toList(), seen.thirdHarmonic()));
            microphone = seen.bins();
            heard = stimulus.observe(WholeTakes.of(references, compared.sampleRate(), stimulus.length()), starts)
                    .bins();
        } else {
            CommonObserver observer = new CommonObserver(compared.fromHz(), compared.toHz());
            microphone = observer.observe(compared.recordings(), alignment.lags());
            heard = observer.observe(references, alignment.lags());
        }
        for (int k = 0; k < compared.size(); k++) {
            if (microphone.coherence(k, compared.pivot()) <= BinObservations.COHERENT) {
                return null;
            }
        }
        return aligned.at(
                Route.REFERENCE, reason + ", and all hold the same sound", microphone, all, alignment, heard, null);
    }
}
