package ohmprint.audiodevice;

import ohmprint.audiodevice.SoundSystem.DeviceFormat;
import org.jspecify.annotations.Nullable;

/**
 * What came of opening a device with a sample rate and letting it run for a moment.
 *
 * @param rate sample rate that was asked for, hertz
 * @param channels channels that were asked for
 * @param bits bits per sample of the line that opened; 0 when none did
 * @param measuredRate frames per second as measured against the computer's clock, to a few per cent; NaN when none came
 * @param own the format that the device itself ran with meanwhile, or null when the system does not tell
 * @param verdict what to think of it
 */
public record FormatTrial(
        int rate,
        int channels,
        int bits,
        double measuredRate,
        @Nullable DeviceFormat own,
        Verdict verdict) {
    /** What to think of a format. */
    public enum Verdict {
        /** The samples come at the right pace, and the system says that the device runs at this rate. */
        VERIFIED,
        /** The samples come at the right pace; nothing tells at which rate the device itself runs. */
        PACE_ONLY,
        /** The device itself runs at another rate; the system converts. */
        CONVERTED,
        /** The samples come at another pace than the rate says. */
        WRONG_PACE,
        /** The line opens, but no sample passes. */
        DEAD,
        /** The line does not open. */
        REFUSED
    }

    /** A format that did not open. */
    public static FormatTrial refused(int rate, int channels) {
        return new FormatTrial(rate, channels, 0, Double.NaN, null, Verdict.REFUSED);
    }
}
