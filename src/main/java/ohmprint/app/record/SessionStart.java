package ohmprint.app.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.TakeFiles;
import ohmprint.audiodevice.SoundException;
import ohmprint.audiodevice.SoundSystem;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.impedance.Microphone;
import ohmprint.session.Assumed;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import ohmprint.session.SessionWriter;
import ohmprint.session.Stimulus;
import ohmprint.session.StimulusKind;
import ohmprint.yaml.ManifestException;

/**
 * Begins a session or takes up one that was begun, after the devices have shown that they can record it. Nothing is
 * written before that.
 *
 * @param session the session as its manifest has it
 * @param setup what is settled besides
 * @param notes what is worth a word
 */
record SessionStart(Session session, Setup setup, List<String> notes) {
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
                PlannedLoads.of(request.loads()),
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
        Setup setup = DeviceNegotiation.settled(request, null, loads, null, sound, notes);
        Files.createDirectories(folder);
        RecordRequest.Sound played = request.sound() == null ? RecordRequest.Sound.USUAL : request.sound();
        PlayedSound.make(played, setup.rate(), folder.resolve(file));
        SetupFile.write(folder, setup);
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
        List<Load> planned = SetupFile.loads(request.folder());
        List<Load> loads = request.loads() == null && planned != null ? planned : PlannedLoads.of(request.loads());
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
        Setup setup = DeviceNegotiation.settled(request, before, loads, rate, sound, notes);
        if (!setup.equals(before)) {
            SetupFile.write(request.folder(), setup);
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
}
