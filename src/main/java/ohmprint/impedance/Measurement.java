package ohmprint.impedance;

import java.util.List;

/**
 * A curve with everything that a reader needs in order to trust or doubt it.
 *
 * @param microphone what was measured
 * @param curve the curve
 * @param route what the takes were compared with
 * @param routeReason why that route was taken, in words
 * @param usability how far it can be trusted
 * @param findings what was noticed, most serious first
 * @param provenance where it comes from
 */
public record Measurement(
        Microphone microphone,
        ImpedanceCurve curve,
        Route route,
        String routeReason,
        Usability usability,
        List<Finding> findings,
        Provenance provenance) {
    /** Most bytes of a measurement as a document: twenty times those of 24 bands per octave over ten octaves. */
    public static final int MOST_BYTES = 8 << 20;

    /** Copies the list of findings. */
    public Measurement {
        findings = List.copyOf(findings);
    }
}
