package ohmprint.app.stimulus;

import java.nio.file.Path;

/**
 * What sound to write.
 *
 * @param file the WAV file
 * @param sound kind of sound
 * @param fromHz lower end of its band, hertz
 * @param toHz upper end, hertz
 * @param seconds length of one copy within the band, seconds; a sweep adds its fades
 * @param peakDbfs highest sample, decibels relative to full scale
 * @param timing copies and silences
 * @param sampleRate frames per second
 * @param bits 16 or 24
 * @param seed determines noise; a sweep has no use for it
 * @param replace whether a file that is there may be replaced
 */
public record StimulusRequest(
        Path file,
        Sound sound,
        double fromHz,
        double toHz,
        double seconds,
        double peakDbfs,
        Timing timing,
        int sampleRate,
        int bits,
        long seed,
        boolean replace) {
    /** Length of a sweep unless asked for otherwise, seconds. */
    public static final double SWEEP_SECONDS = 6;

    /** Length of noise unless asked for otherwise, seconds. */
    public static final double NOISE_SECONDS = 8;

    /** A kind of sound. */
    public enum Sound {
        /** Exponential sweep. */
        SWEEP,
        /** Noise with the same power in every octave. */
        PINK,
        /** Noise with the same power in every hertz. */
        WHITE;

        /** The word used on the command line. */
        public String word() {
            return name().toLowerCase(java.util.Locale.ROOT);
        }
    }

    /**
     * Copies and silences.
     *
     * @param repeats number of copies, 1 or more
     * @param gapSeconds silence between copies; in a loop, between the end and the beginning
     * @param leadSeconds silence before the first, none in a loop
     * @param tailSeconds silence after the last, none in a loop
     * @param loop whether the file is one copy to be played in a loop
     */
    public record Timing(int repeats, double gapSeconds, double leadSeconds, double tailSeconds, boolean loop) {}

    /** The length of one copy that suits a sound, seconds. */
    public static double usualSeconds(Sound sound) {
        return sound == Sound.SWEEP ? SWEEP_SECONDS : NOISE_SECONDS;
    }

    /** Two copies of a sweep a second apart, two of noise without a gap; half a second of silence and more around them. */
    public static Timing usualTiming(Sound sound) {
        return new Timing(2, usualGap(sound), 1, 1, false);
    }

    /** One copy for a loop. */
    public static Timing usualLoop(Sound sound) {
        return new Timing(1, usualGap(sound), 0, 0, true);
    }

    /** Silence between copies that suits a sound, seconds: a sweep has to die away, noise goes on. */
    public static double usualGap(Sound sound) {
        return sound == Sound.SWEEP ? 1 : 0;
    }

    /** The same sound written elsewhere, with everything as usual. */
    public static StimulusRequest of(Path file, Sound sound) {
        return new StimulusRequest(
                file, sound, 20, 20_000, usualSeconds(sound), -6, usualTiming(sound), 48_000, 24, 1, false);
    }
}
