package ohmprint.app.workspace;

import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.record.RecordRequest;
import org.jspecify.annotations.Nullable;

/**
 * What the recorder of a session is to do.
 *
 * @param action {@code open}, {@code cautions-read}, {@code check-level}, {@code level-accepted}, {@code record}, {@code
 *     keep}, {@code repeat}, {@code cancel} or {@code close}
 * @param bench devices and channels, to open it
 * @param sound what to play, to open it for a session without a sound; null for the usual sweep
 * @param loads loads of the takes, to open it; null for those that are planned
 */
public record RecorderForm(
        @Nullable String action,
        @Nullable Devices bench,
        @Nullable Sound sound,
        @Nullable LoadsForm loads) {
    private static final int MOST_CHANNELS = 32;
    private static final double LONGEST_SECONDS = 120;

    /**
     * Devices and channels; what is null is left to the program.
     *
     * @param inputDevice name of the recording device or a part of it
     * @param outputDevice name of the playing device or a part of it
     * @param sampleRate sample rate in hertz
     * @param channels channels to open
     * @param channel channel of the microphone, from 1
     * @param referenceChannel channel that hears the sound but not the load, from 1
     */
    public record Devices(
            @Nullable String inputDevice,
            @Nullable String outputDevice,
            @Nullable Integer sampleRate,
            @Nullable Integer channels,
            @Nullable Integer channel,
            @Nullable Integer referenceChannel) {
        RecordRequest.Bench bench() throws BadInputException {
            between(sampleRate, 8000, 768_000, "sample rate", "Hz");
            between(channels, 1, MOST_CHANNELS, "number of channels", "");
            between(channel, 1, MOST_CHANNELS, "channel of the microphone", "");
            between(referenceChannel, 1, MOST_CHANNELS, "channel of the reference", "");
            return new RecordRequest.Bench(
                    text(inputDevice), text(outputDevice), sampleRate, channels, channel, referenceChannel, null, null);
        }

        private static @Nullable String text(@Nullable String given) {
            return given == null || given.isBlank() ? null : given;
        }
    }

    /**
     * What to play; what is null is left to the program.
     *
     * @param kind {@code sweep} or {@code noise}
     * @param seconds its length
     * @param fromHz lower end of a sweep, hertz
     * @param toHz upper end of a sweep, hertz
     * @param peakDbfs peak level in dBFS
     */
    public record Sound(
            @Nullable String kind,
            @Nullable Double seconds,
            @Nullable Double fromHz,
            @Nullable Double toHz,
            @Nullable Double peakDbfs) {
        RecordRequest.Sound sound() throws BadInputException {
            RecordRequest.Sound usual = RecordRequest.Sound.USUAL;
            if (kind != null && !kind.equals("sweep") && !kind.equals("noise")) {
                throw new BadInputException("the sound is '" + kind + "'; choose sweep or noise");
            }
            between(seconds, 0.5, LONGEST_SECONDS, "length of the sound", "s");
            between(fromHz, 1, 384_000, "lower end of the sweep", "Hz");
            between(toHz, 1, 384_000, "upper end of the sweep", "Hz");
            between(peakDbfs, -80, 0, "level of the sound", "dBFS");
            double from = fromHz == null ? usual.fromHz() : fromHz;
            double to = toHz == null ? usual.toHz() : toHz;
            if (from >= to) {
                throw new BadInputException(
                        "the sweep runs from " + from + " Hz to " + to + " Hz; give the lower end first");
            }
            return new RecordRequest.Sound(
                    null,
                    "noise".equals(kind),
                    seconds == null ? usual.seconds() : seconds,
                    from,
                    to,
                    peakDbfs == null ? usual.peakDbfs() : peakDbfs);
        }
    }

    /** What is to be recorded in a folder. */
    RecordRequest request(Path folder) throws BadInputException {
        return new RecordRequest(
                folder,
                null,
                null,
                loads == null ? null : loads.loads(),
                sound == null ? null : sound.sound(),
                bench == null ? RecordRequest.Bench.USUAL : bench.bench(),
                null);
    }

    private static void between(@Nullable Number given, double least, double most, String what, String unit)
            throws BadInputException {
        if (given != null && !(given.doubleValue() >= least && given.doubleValue() <= most)) {
            throw new BadInputException("the " + what + " is " + given + " " + unit + "; give " + Words.plain(least)
                    + " to " + Words.plain(most) + " " + unit);
        }
    }
}
