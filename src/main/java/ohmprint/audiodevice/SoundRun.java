package ohmprint.audiodevice;

import org.jspecify.annotations.Nullable;

/**
 * What to play and to record at once.
 *
 * @param input name of the recording device, or null for the system's usual one
 * @param output name of the playing device, or null likewise
 * @param rate sample rate in hertz, of both
 * @param channels channels to record
 * @param sound what to play, relative to full scale, on all channels of the output alike
 * @param leadSeconds recording before the sound begins
 * @param tailSeconds recording after the last of the sound has left the computer
 */
@SuppressWarnings("ArrayRecordComponent") // never compared
public record SoundRun(
        @Nullable String input,
        @Nullable String output,
        int rate,
        int channels,
        double[] sound,
        double leadSeconds,
        double tailSeconds) {
    /** Copies the samples. */
    public SoundRun {
        sound = sound.clone();
    }

    /** A copy of the samples. */
    @Override
    public double[] sound() {
        return sound.clone();
    }
}
