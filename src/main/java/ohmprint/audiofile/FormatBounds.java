package ohmprint.audiofile;

import java.nio.file.Path;

/**
 * Rates, channels and chunks that a sound file may have; common practice, no source.
 *
 * <p>A damaged header states anything, and what follows from it (lengths of windows, filters and blocks) would take all
 * memory or vanish.
 */
final class FormatBounds {
    /** Lowest sample rate, in hertz: half of what a telephone needs. */
    static final int LEAST_RATE_HZ = 4_000;

    /** Highest sample rate, in hertz: above the fastest converters of sound, at 768 kHz. */
    static final int MOST_RATE_HZ = 1_000_000;

    /** Most channels: four times those of the widest common cable, at 64. */
    static final int MOST_CHANNELS = 256;

    /** More chunks than any recorder writes; a file of nothing but empty chunks would otherwise take for ever. */
    static final int MOST_CHUNKS = 65_536;

    private static final String HEADER = "check its header, then copy or export the file again";

    private FormatBounds() {}

    /**
     * Refuses what lies outside.
     *
     * @throws AudioFormatException naming the value, its unit and the permitted range
     */
    static void check(Path file, long channels, double rateHz) throws AudioFormatException {
        if (!(rateHz >= LEAST_RATE_HZ && rateHz <= MOST_RATE_HZ)) {
            throw new AudioFormatException(
                    file,
                    "has a rate of " + plain(rateHz) + " Hz, outside " + LEAST_RATE_HZ + " to " + MOST_RATE_HZ + " Hz",
                    HEADER);
        }
        if (channels < 1 || channels > MOST_CHANNELS) {
            throw new AudioFormatException(
                    file, "has " + channels + " channels, outside 1 to " + MOST_CHANNELS, HEADER);
        }
    }

    private static String plain(double rateHz) {
        return rateHz == Math.rint(rateHz) && Math.abs(rateHz) < 1e15
                ? Long.toString((long) rateHz)
                : Double.toString(rateHz);
    }
}
