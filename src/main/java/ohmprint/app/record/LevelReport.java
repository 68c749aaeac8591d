package ohmprint.app.record;

import java.util.List;
import ohmprint.impedance.Finding;
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
    /** Copies the list. */
    public LevelReport {
        findings = List.copyOf(findings);
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
