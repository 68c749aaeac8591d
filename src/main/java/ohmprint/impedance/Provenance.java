package ohmprint.impedance;

import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Where a curve comes from, enough to repeat it.
 *
 * @param programVersion version of the program that computed it
 * @param computedAt when it was computed
 * @param input the recording input in words, for example {@code 3000 Ω ± 5 % ∥ 470 pF}
 * @param takes the takes, in the order of the session
 * @param stimulus the stimulus file, or null
 */
public record Provenance(
        String programVersion,
        Instant computedAt,
        String input,
        List<TakeOrigin> takes,
        @Nullable FileOrigin stimulus) {

    /** Copies the list of takes. */
    public Provenance {
        takes = List.copyOf(takes);
    }

    /**
     * A file and its fingerprint.
     *
     * @param file name as in the manifest
     * @param sha256 SHA-256 of its bytes, 64 lower-case hexadecimal digits
     */
    public record FileOrigin(String file, String sha256) {}

    /**
     * One take.
     *
     * @param file the file and its fingerprint
     * @param loadOhm load in ohms, positive infinity for open
     * @param loadTolerancePercent half-width of the load's tolerance in percent
     * @param channel channel of the microphone, counted from 1
     * @param referenceChannel channel of the reference, counted from 1, or null
     * @param delaySamples start of this take relative to what it was compared with, samples; NaN if not determined
     * @param driftDb level of the source relative to the first take, dB; NaN if not determined
     * @param clockPpm how much faster the recorder's clock was than the player's, parts per million; NaN when they agree
     *     or when that is not determined
     * @param leftOut true when the take was not used for the curve
     */
    public record TakeOrigin(
            FileOrigin file,
            double loadOhm,
            double loadTolerancePercent,
            int channel,
            @Nullable Integer referenceChannel,
            double delaySamples,
            double driftDb,
            double clockPpm,
            boolean leftOut) {
        /** A take of one clock. */
        public TakeOrigin(
                FileOrigin file,
                double loadOhm,
                double loadTolerancePercent,
                int channel,
                @Nullable Integer referenceChannel,
                double delaySamples,
                double driftDb,
                boolean leftOut) {
            this(
                    file,
                    loadOhm,
                    loadTolerancePercent,
                    channel,
                    referenceChannel,
                    delaySamples,
                    driftDb,
                    Double.NaN,
                    leftOut);
        }
    }
}
