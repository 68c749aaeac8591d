package ohmprint.app.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import ohmprint.app.BadInputException;
import ohmprint.app.TakeFiles;
import ohmprint.app.record.RecordRequest.Bench;
import ohmprint.audio.DeviceFormat;
import ohmprint.audio.Direction;
import ohmprint.audio.FormatTrial;
import ohmprint.audio.SoundException;
import ohmprint.audio.SoundException.Reason;
import ohmprint.audio.SoundSystem;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.curve.Microphone;
import ohmprint.manifest.ManifestException;
import ohmprint.session.Assumed;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import ohmprint.session.SessionWriter;
import ohmprint.session.Stimulus;
import ohmprint.session.StimulusKind;
import org.jspecify.annotations.Nullable;

/**
 * Begins a session or takes up one that was begun, after the devices have shown that they can record it. Nothing is
 * written before that.
 *
 * @param session the session as its manifest has it
 * @param setup what is settled besides
 * @param notes what is worth a word
 */
record Opening(Session session, Setup setup, List<String> notes) {
    private static final int USUAL_RATE = 48_000;
    private static final int USUAL_CHANNELS = 2;
    private static final int MOST_CHANNELS = 32;

    static Opening of(RecordRequest request, SoundSystem sound) throws BadInputException, IOException, SoundException {
        if (Files.exists(request.folder().resolve(Session.MANIFEST))) {
            return resumed(request, sound);
        }
        return begun(request, sound);
    }

    private static Opening begun(RecordRequest request, SoundSystem sound)
            throws BadInputException, IOException, SoundException {
        Microphone microphone = request.microphone();
        RecordRequest.Input input = request.input();
        Path folder = request.folder();
        if (microphone == null || input == null) {
            throw new BadInputException(
                    folder + " holds no session yet; tell the microphone's label, the recording input"
                            + " and the loads to begin one");
        }
        if (Files.exists(folder) && !Files.isDirectory(folder)) {
            throw new BadInputException(folder + " is a file; give the path of a folder for the session");
        }
        return withSound(
                new Session(folder, microphone, impedance(input), List.of()), request, planned(request.loads()), sound);
    }

    /** Settles devices, then makes the sound of a session that has neither sound nor takes yet. */
    private static Opening withSound(Session bare, RecordRequest request, List<Load> loads, SoundSystem sound)
            throws BadInputException, IOException, SoundException {
        Path folder = bare.folder();
        String file = PlayedSound.FILE;
        for (int n = 2; Files.exists(folder.resolve(file)); n++) {
            file = PlayedSound.FILE.replace(".", "-" + n + ".");
        }
        List<String> notes = new ArrayList<>();
        Setup setup = settled(request, null, loads, null, sound, notes);
        Files.createDirectories(folder);
        RecordRequest.Sound played = request.sound() == null ? RecordRequest.Sound.USUAL : request.sound();
        PlayedSound.make(played, setup.rate(), folder.resolve(file));
        SetupFile.write(folder, setup);
        Session session =
                bare.withStimulus(new Stimulus(played.noise() ? StimulusKind.NOISE : StimulusKind.SWEEP, file));
        SessionWriter.write(session);
        return new Opening(session, setup, notes);
    }

    private static Opening resumed(RecordRequest request, SoundSystem sound)
            throws BadInputException, IOException, SoundException {
        Session session;
        try {
            session = new SessionReader(TakeFiles.probe()).readUnfinished(request.folder());
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
        boolean silent = session.takes().isEmpty() && session.stimulusPath().isEmpty();
        if (request.microphone() != null || request.input() != null || (request.sound() != null && !silent)) {
            throw new BadInputException(
                    request.folder() + " holds a session already, whose microphone, input and sound are"
                            + " settled; leave these options out to go on with it, or name another folder");
        }
        List<Load> planned = SetupFile.loads(request.folder());
        List<Load> loads = request.loads() == null && planned != null ? planned : planned(request.loads());
        if (silent) {
            return withSound(session, request, loads, sound);
        }
        Path played = session.stimulusPath()
                .orElseThrow(() -> new BadInputException(request.folder() + " holds a session without the file that was"
                        + " played; name it in the manifest as stimulus: {kind: sweep, file: stimulus.wav}, or begin a new"
                        + " session"));
        Setup before = SetupFile.read(request.folder());
        List<String> notes = new ArrayList<>();
        int rate = (int) Math.round(rateOf(played));
        Setup setup = settled(request, before, loads, rate, sound, notes);
        if (!setup.equals(before)) {
            SetupFile.write(request.folder(), setup);
        }
        return new Opening(session, setup, notes);
    }

    private static double rateOf(Path file) throws IOException {
        return TakeFiles.probe().shape(file).sampleRate();
    }

    /** The loads in order, the first once more at the end if wanted. */
    static List<Load> planned(RecordRequest.@Nullable Loads wanted) throws BadInputException {
        if (wanted == null || wanted.ohms().stream().distinct().count() < 2) {
            throw new BadInputException(
                    "a session needs two or more different loads; give them in the order of the takes,"
                            + " for example 150 and 1500 Ω");
        }
        List<Load> loads = new ArrayList<>();
        try {
            for (double ohm : wanted.ohms()) {
                loads.add(Double.isInfinite(ohm) ? Load.open() : Load.ofOhms(ohm, wanted.tolerancePercent()));
            }
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
        if (wanted.repeatFirst()
                && loads.get(loads.size() - 1).ohm() != loads.get(0).ohm()) {
            loads.add(loads.get(0));
        }
        return loads;
    }

    private static InputImpedance impedance(RecordRequest.Input input) throws BadInputException {
        try {
            return Double.isNaN(input.ohm())
                    ? InputImpedance.unknownResistance(input.pf(), Assumed.INPUT_CAPACITANCE_TOLERANCE_PERCENT)
                    : InputImpedance.ofOhms(
                            input.ohm(),
                            input.tolerancePercent(),
                            input.pf(),
                            Assumed.INPUT_CAPACITANCE_TOLERANCE_PERCENT);
        } catch (IllegalArgumentException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private static Setup settled(
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
