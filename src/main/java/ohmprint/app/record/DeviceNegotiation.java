package ohmprint.app.record;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import ohmprint.app.BadInputException;
import ohmprint.app.record.RecordRequest.Bench;
import ohmprint.audiodevice.FormatTrial;
import ohmprint.audiodevice.SoundException;
import ohmprint.audiodevice.SoundException.Reason;
import ohmprint.audiodevice.SoundSystem;
import ohmprint.audiodevice.SoundSystem.DeviceFormat;
import ohmprint.audiodevice.SoundSystem.Direction;
import ohmprint.circuit.Load;
import org.jspecify.annotations.Nullable;

/**
 * Settles devices, rate and channels, and has the recording device show that it runs with them. What is asked for comes
 * before what was settled when the session began, that before what the device has of its own, that before what is usual.
 */
final class DeviceNegotiation {
    private static final int USUAL_RATE = 48_000;
    private static final int USUAL_CHANNELS = 2;
    private static final int MOST_CHANNELS = 32;

    private DeviceNegotiation() {}

    /**
     * What is settled from now on.
     *
     * @param before what was settled when the session began, or null
     * @param loads loads of all takes in order
     * @param ofSession sample rate of the session's sound in hertz, which stays, or null when there is none yet
     * @param notes receives what is worth a word
     * @throws BadInputException if what is asked for contradicts itself, the session or the device
     * @throws SoundException if there is no sound here, or the recording device does not run as settled
     */
    static Setup settled(
            RecordRequest request,
            @Nullable Setup before,
            List<Load> loads,
            @Nullable Integer ofSession,
            SoundSystem sound,
            List<String> notes)
            throws BadInputException, SoundException {
        Bench bench = request.bench();
        sound.devices();
        String input = bench.inputDevice() != null ? bench.inputDevice() : before == null ? null : before.inputDevice();
        String output =
                bench.outputDevice() != null ? bench.outputDevice() : before == null ? null : before.outputDevice();
        int channel = or(bench.channel(), before == null ? 1 : before.channel());
        Integer reference = bench.referenceChannel() != null
                ? bench.referenceChannel()
                : before == null ? null : before.referenceChannel();
        if (reference != null && reference == channel) {
            throw new BadInputException("channel " + channel + " cannot be both the microphone and the reference; give"
                    + " the reference the channel of the monitor microphone or loopback");
        }
        Optional<DeviceFormat> own = sound.ownFormat(input, Direction.RECORDING);
        Integer wanted = ofSession != null ? ofSession : bench.rate();
        if (ofSession != null && bench.rate() != null && !bench.rate().equals(ofSession)) {
            throw new BadInputException("the session is recorded at " + ofSession + " Hz, not at " + bench.rate()
                    + " Hz; leave the rate out, or begin a new session");
        }
        int rate = or(wanted, own.map(DeviceFormat::rate).orElse(USUAL_RATE));
        int needed = Math.max(channel, reference == null ? 1 : reference);
        int channels = or(
                bench.channels(),
                before != null
                        ? before.channels()
                        : own.map(DeviceFormat::channels).orElse(USUAL_CHANNELS));
        checkChannels(own, bench.channels(), needed, channels);
        tryOut(sound, input, rate, Math.max(needed, channels), ofSession != null);
        sound.ownFormat(output, Direction.PLAYBACK)
                .filter(f -> f.rate() != rate)
                .ifPresent(f ->
                        notes.add(f.device() + " plays at " + f.rate() + " Hz, so the sound is converted on its way"
                                + " from " + rate + " Hz; set both devices to one rate if you can"));
        return new Setup(
                loads,
                input,
                output,
                rate,
                Math.max(needed, channels),
                channel,
                reference,
                or(bench.leadSeconds(), before == null ? Setup.LEAD_SECONDS : before.leadSeconds()),
                or(bench.tailSeconds(), before == null ? Setup.TAIL_SECONDS : before.tailSeconds()),
                request.expectedOhm() != null ? request.expectedOhm() : before == null ? null : before.expectedOhm());
    }

    /** A server mixes channels when their number is not its own, without a word. */
    private static void checkChannels(Optional<DeviceFormat> own, @Nullable Integer asked, int needed, int channels)
            throws BadInputException {
        if (needed > MOST_CHANNELS || channels > MOST_CHANNELS) {
            throw new BadInputException("channel " + Math.max(needed, channels) + " is beyond the " + MOST_CHANNELS
                    + " that can be recorded");
        }
        if (own.isPresent()) {
            int has = own.get().channels();
            String device = own.get().device();
            if (needed > has) {
                throw new BadInputException("channel " + needed + " does not exist: " + device + " has " + has
                        + (has == 1 ? " channel" : " channels") + "; give another channel or another device");
            }
            if (asked != null && asked != has) {
                throw new BadInputException(device + " has " + has + (has == 1 ? " channel" : " channels")
                        + ", and the sound server would mix them to make " + asked
                        + "; leave the number of channels out");
            }
        }
    }

    private static void tryOut(SoundSystem sound, @Nullable String device, int rate, int channels, boolean ofSession)
            throws SoundException {
        FormatTrial trial = sound.trial(device, Direction.RECORDING, rate, channels);
        String name = device == null ? "the recording device" : device;
        switch (trial.verdict()) {
            case VERIFIED, PACE_ONLY -> {}
            case CONVERTED -> throw new SoundException(Reason.CONVERTED, converted(trial, name, ofSession));
            case WRONG_PACE ->
                throw new SoundException(
                        Reason.REFUSED,
                        String.format(
                                Locale.ROOT,
                                "%s was opened for %d Hz, but brings %.0f samples a second; choose another rate",
                                name,
                                rate,
                                trial.measuredRate()));
            case DEAD ->
                throw new SoundException(
                        Reason.LOST,
                        name + " opens, but brings no samples; see that it is on and not in use, and connect it again");
            case REFUSED ->
                throw new SoundException(
                        Reason.REFUSED,
                        name + " does not open with " + channels + (channels == 1 ? " channel" : " channels") + " at "
                                + rate + " Hz; devices lists what it does, and other programs may be using it");
        }
    }

    private static String converted(FormatTrial trial, String name, boolean ofSession) {
        DeviceFormat own = trial.own();
        int rate = trial.rate();
        return (own == null ? name : own.device()) + " does not run at " + rate + " Hz"
                + (own == null ? "" : " but at " + own.rate() + " Hz") + ", and the sound server would convert; "
                + (ofSession || own == null
                        ? "set it to " + rate + " Hz, or use another device"
                        : "record with --rate " + own.rate() + ", or set it to " + rate + " Hz");
    }

    private static int or(@Nullable Integer value, int otherwise) {
        return value == null ? otherwise : value;
    }

    private static double or(@Nullable Double value, double otherwise) {
        return value == null ? otherwise : value;
    }
}
