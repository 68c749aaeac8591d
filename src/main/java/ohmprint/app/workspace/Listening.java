package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Supplier;
import ohmprint.app.BadInputException;
import ohmprint.app.TakeFindings;
import ohmprint.app.TakeInspection;
import ohmprint.app.record.TakeSpectrum;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.curve.Microphone;
import ohmprint.session.Session;
import ohmprint.session.Take;
import ohmprint.wav.AudioFormatException;
import org.jspecify.annotations.Nullable;

/**
 * Looks into recordings of a session, takes or not.
 *
 * @param folder folder of the session
 * @param places where files may lie
 */
record Listening(Path folder, Places places) {
    private static final Microphone NOBODY = new Microphone("-", null, null, null, null, null, null, null);

    /**
     * Looks into one.
     *
     * @param name the name by which it is asked for
     * @param recorder tells the take that waits for a verdict, or null
     */
    InspectionView inspect(String name, Supplier<@Nullable RecorderView> recorder)
            throws BadInputException, IOException {
        try {
            return look(name, recorder.get());
        } catch (NoSuchFileException e) {
            // A take that was kept while it was looked into has got its final name meanwhile.
            return look(name, recorder.get());
        }
    }

    private InspectionView look(String name, @Nullable RecorderView recorder) throws BadInputException, IOException {
        RecorderView.Heard waiting = recorder == null ? null : recorder.take();
        places.refuseLinks(folder);
        Session session = session();
        String file = name;
        Take take = named(session, name);
        if (waiting != null && waiting.file().equals(name)) {
            file = name.replaceFirst("\\.wav$", ".unfinished.wav");
            take = null;
        }
        places.existing(folder, file);
        TakeInspection seen;
        try {
            seen = TakeInspection.of(session, take == null ? new Take(file, Load.open()) : take);
        } catch (AudioFormatException e) {
            throw new BadInputException(name + " cannot be read as audio; export it again as WAV", e);
        }
        var shown = seen.indicators();
        return new InspectionView(
                name,
                shown.frames() / shown.sampleRate(),
                20 * Math.log10(shown.peak()),
                shown.leadInDbfs(),
                FindingView.of(TakeFindings.of(List.of(seen), session.microphone())),
                TakeSpectrum.of(seen));
    }

    /** The session, or one without anything when its manifest cannot be understood. */
    private Session session() {
        Session session = Manifest.read(folder, places).session();
        return session == null ? new Session(folder, NOBODY, InputImpedance.unknown(), List.of()) : session;
    }

    private static @Nullable Take named(Session session, String file) {
        return session.takes().stream()
                .filter(t -> t.file().equals(file))
                .findFirst()
                .orElse(null);
    }
}
