package ohmprint.app.record;

import static java.util.Objects.requireNonNullElse;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.TakeFiles;
import ohmprint.app.plan.ExpectedSource;
import ohmprint.app.plan.PlanRequest;
import ohmprint.app.record.RecordRequest.Bench;
import ohmprint.audiodevice.FormatTrial;
import ohmprint.audiodevice.SoundException;
import ohmprint.audiodevice.SoundException.Reason;
import ohmprint.audiodevice.SoundSystem;
import ohmprint.audiodevice.SoundSystem.DeviceFormat;
import ohmprint.audiodevice.SoundSystem.Direction;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.Microphone;
import ohmprint.session.Assumed;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import ohmprint.session.SessionWriter;
import ohmprint.session.Stimulus;
import ohmprint.session.StimulusKind;
import ohmprint.yaml.ManifestException;
import org.jspecify.annotations.Nullable;

/**
 * Begins a session or takes up one that was begun, after the devices have shown that they can record it. Nothing is
 * written before that.
 *
 * @param session the session as its manifest has it
 * @param setup what is settled besides
 * @param notes what is worth a word
 */
record SessionStart(Session session, Setup setup, List<String> notes) {
    private static final int MOST_CHANNELS = 32;

    static SessionStart of(RecordRequest request, SoundSystem sound)
            throws BadInputException, IOException, SoundException {
        if (Files.exists(request.folder().resolve(Session.MANIFEST))) {
            return resumed(request, sound);
        }
        return begun(request, sound);
    }

    private static SessionStart begun(RecordRequest request, SoundSystem sound)
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
                new Session(folder, microphone, impedance(input), List.of()),
                request,
                Setup.loads(request.loads()),
                sound);
    }

    /** Settles devices, then makes the sound of a session that has neither sound nor takes yet. */
    private static SessionStart withSound(Session bare, RecordRequest request, List<Load> loads, SoundSystem sound)
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
        setup.write(folder);
        Session session =
                bare.withStimulus(new Stimulus(played.noise() ? StimulusKind.NOISE : StimulusKind.SWEEP, file));
        SessionWriter.write(session);
        return new SessionStart(session, setup, notes);
    }

    private static SessionStart resumed(RecordRequest request, SoundSystem sound)
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
        List<Load> planned = Setup.planned(request.folder());
        List<Load> loads = request.loads() == null && planned != null ? planned : Setup.loads(request.loads());
        if (silent) {
            return withSound(session, request, loads, sound);
        }
        Path played = session.stimulusPath()
                .orElseThrow(() -> new BadInputException(request.folder() + " holds a session without the file that was"
                        + " played; name it in the manifest as stimulus: {kind: sweep, file: stimulus.wav}, or begin a new"
                        + " session"));
        Setup before = Setup.read(request.folder());
        List<String> notes = new ArrayList<>();
        int rate = (int) Math.round(rateOf(played));
        Setup setup = settled(request, before, loads, rate, sound, notes);
        if (!setup.equals(before)) {
            setup.write(request.folder());
        }
        return new SessionStart(session, setup, notes);
    }

    private static double rateOf(Path file) throws IOException {
        return TakeFiles.probe().shape(file).sampleRate();
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

    /**
     * Settles devices, rate and channels, and has the recording device show that it runs with them. What is asked for comes
     * before what was settled when the session began, that before what the device has of its own, that before what is usual.
     *
     * @param before what was settled when the session began, or null
     * @param loads loads of all takes in order
     * @param ofSession sample rate of the session's sound in hertz, which stays, or null when there is none yet
     * @param notes receives what is worth a word
     * @throws BadInputException if what is asked for contradicts itself, the session or the device
     * @throws SoundException if there is no sound here, or the recording device does not run as settled
     */
    private static Setup settled(
            RecordRequest request,
            @Nullable Setup before,
            List<Load> loads,
            @Nullable Integer ofSession,
            SoundSystem sound,
            List<String> notes)
            throws BadInputException, SoundException {
        Bench bench = request.bench();
        Setup usual = before == null ? Setup.usual(loads) : before;
        sound.devices();
        String input = or(bench.inputDevice(), usual.inputDevice());
        String output = or(bench.outputDevice(), usual.outputDevice());
        int channel = requireNonNullElse(bench.channel(), usual.channel());
        Integer reference = or(bench.referenceChannel(), usual.referenceChannel());
        if (reference != null && reference == channel) {
            throw new BadInputException("channel " + channel + " cannot be both the microphone and the reference; give"
                    + " the reference the channel of the monitor microphone or loopback");
        }
        Optional<DeviceFormat> own = sound.ownFormat(input, Direction.RECORDING);
        if (ofSession != null && bench.rate() != null && !bench.rate().equals(ofSession)) {
            throw new BadInputException("the session is recorded at " + ofSession + " Hz, not at " + bench.rate()
                    + " Hz; leave the rate out, or begin a new session");
        }
        Integer wanted = or(ofSession, bench.rate());
        int rate = wanted != null ? wanted : own.map(DeviceFormat::rate).orElse(Setup.USUAL_RATE);
        int needed = Math.max(channel, reference == null ? 1 : reference);
        int opened = before == null ? own.map(DeviceFormat::channels).orElse(usual.channels()) : before.channels();
        int channels = requireNonNullElse(bench.channels(), opened);
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
                requireNonNullElse(bench.leadSeconds(), usual.leadSeconds()),
                requireNonNullElse(bench.tailSeconds(), usual.tailSeconds()),
                or(request.expectedOhm(), usual.expectedOhm()));
    }

    private static <T> @Nullable T or(@Nullable T value, @Nullable T otherwise) {
        return value == null ? otherwise : value;
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

    /**
     * The impedance that is expected: what was stated, else the rated one, else that of a usual microphone of its kind, else
     * 200 Ω (common practice, no source).
     *
     * @param source for predictions
     * @param ohm at 1 kHz in ohms, or null when nothing is known of this microphone
     */
    record ExpectedImpedance(SourceModel source, @Nullable Double ohm) {
        private static final double USUAL_OHM = 200;
        private static final List<String> KINDS = List.of("moving-coil", "ribbon", "condenser");

        static ExpectedImpedance of(Microphone microphone, @Nullable Double statedOhm)
                throws BadInputException, IOException {
            Double ohm = or(statedOhm, microphone.ratedImpedanceOhm());
            String kind = microphone.transducer();
            if (ohm == null && kind != null && KINDS.contains(kind)) {
                SourceModel usual = source(PlanRequest.Expected.ofTransducer(kind));
                return new ExpectedImpedance(
                        usual, usual.impedance(FrequencyBands.REFERENCE_HZ).abs());
            }
            return new ExpectedImpedance(source(PlanRequest.Expected.ofOhms(requireNonNullElse(ohm, USUAL_OHM))), ohm);
        }

        private static SourceModel source(PlanRequest.Expected expected) throws BadInputException, IOException {
            return ExpectedSource.of(expected).source();
        }
    }
}
