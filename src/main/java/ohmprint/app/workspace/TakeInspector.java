package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Supplier;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.TakeFindings;
import ohmprint.app.measure.TakeInspection;
import ohmprint.app.record.SessionFolder;
import ohmprint.app.record.TakeLevels;
import ohmprint.audiofile.AudioFormatException;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.impedance.Finding;
import ohmprint.impedance.Microphone;
import ohmprint.session.Session;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/** Looks into recordings of a session, takes or not. */
public final class TakeInspector {
    private static final int MOST_LOOKS = 5;
    private static final Microphone NOBODY = new Microphone("-", null, null, null, null, null, null, null);

    private final Path folder;
    private final PathGuard places;

    /**
     * For a session.
     *
     * @param folder its folder
     * @param places where files may lie
     */
    TakeInspector(Path folder, PathGuard places) {
        this.folder = folder;
        this.places = places;
    }

    /**
     * Looks into one. A take that gets its final name, or is put aside, while it is looked into is looked for again.
     *
     * @param name the name by which it is asked for
     * @param waiting tells the name that the take gets which waits for a verdict, or null
     */
    Inspection inspect(String name, Supplier<@Nullable String> waiting) throws BadInputException, IOException {
        places.refuseLinks(folder);
        for (int looked = 1; ; looked++) {
            String file = lies(name, waiting.get());
            try {
                return look(name, file);
            } catch (BadInputException | IOException e) {
                if (looked == MOST_LOOKS || Files.exists(folder.resolve(file))) {
                    throw e;
                }
            }
        }
    }

    /** Name under which the recording lies now: a take that waits for a verdict has got no final one. */
    private String lies(String name, @Nullable String waiting) {
        String unfinished = SessionFolder.unfinished(name);
        return name.equals(waiting) && Files.exists(folder.resolve(unfinished)) ? unfinished : name;
    }

    private Inspection look(String name, String file) throws BadInputException, IOException {
        Session session = session();
        Take take = file.equals(name) ? named(session, name) : null;
        places.existing(folder, file);
        TakeInspection seen;
        TakeLevels.Spectrum spectrum;
        try {
            seen = TakeInspection.of(session, take == null ? new Take(file, Load.open()) : take);
            spectrum = TakeLevels.Spectrum.of(seen);
        } catch (AudioFormatException e) {
            throw new BadInputException(name + " cannot be read as audio; export it again as WAV", e);
        }
        var shown = seen.indicators();
        return new Inspection(
                name,
                shown.frames() / shown.sampleRate(),
                20 * Math.log10(shown.peak()),
                shown.leadInDbfs(),
                TakeFindings.of(List.of(seen), session.microphone()),
                spectrum);
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

    /**
     * What a recording shows by itself.
     *
     * @param file its name
     * @param seconds its length
     * @param peakDbfs highest sample, dBFS
     * @param noiseDbfs level of the silence before the sound, dBFS; NaN without one
     * @param findings what was noticed
     * @param spectrum levels per band
     */
    public record Inspection(
            String file,
            double seconds,
            double peakDbfs,
            double noiseDbfs,
            List<Finding> findings,
            TakeLevels.Spectrum spectrum) {}
}
