package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode.Wording;
import ohmprint.session.Take;

/**
 * Takes that are driven into curvature further than others, seen by the third harmonic of a sweep.
 *
 * <p>What the loudspeaker distorts is in all takes alike and harmless; what microphone or preamplifier distort grows with
 * the level of the take, and the fundamental loses three times as much as the third harmonic holds.
 */
final class Saturation {
    /** Loss of level against the least distorted take that counts, dB. */
    static final double LEAST_DB = 0.05;

    private Saturation() {}

    /**
     * One finding for each take that loses level.
     *
     * @param takes the takes
     * @param third third harmonic of each over its fundamental; empty when it is not known
     */
    static List<Finding> findings(List<Take> takes, double[] third) {
        List<Finding> out = new ArrayList<>();
        double least = Arrays.stream(third).min().orElse(0);
        for (int k = 0; k < third.length; k++) {
            double loss = -20 * Math.log10(1 - Math.min(0.3, 3 * (third[k] - least)));
            if (loss >= LEAST_DB) {
                out.add(Wording.SATURATED.of(takes.get(k).file(), 100 * third[k], 100 * least, loss));
            }
        }
        return out;
    }
}
