package ohmprint.session;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import ohmprint.curve.Microphone;
import ohmprint.manifest.ManifestException;
import ohmprint.manifest.Problems;
import ohmprint.manifest.Section;
import org.jspecify.annotations.Nullable;

/** Reads a session strictly: see the package comment for the format. */
public final class SessionReader {
    static final String VERSION = "1";
    private static final Map<String, String> INPUT = Map.of(
            InputSessionReader.MARK, "is the manifest of a preamplifier's input; measure it with ohmprint input");
    private static final List<String> KEYS = List.of(
            "version",
            "microphone",
            "input",
            "stimulus",
            "takes",
            "level_drift_percent",
            "operator",
            "workshop",
            "notes");

    private final AudioProbe probe;

    /**
     * A reader.
     *
     * @param probe tells the shape of the audio files that a manifest names
     */
    public SessionReader(AudioProbe probe) {
        this.probe = probe;
    }

    /**
     * A session that is ready to be measured.
     *
     * @param folderOrManifest the folder that holds {@code session.yaml}, or a manifest of any name
     * @throws ManifestException with everything that is wrong with the manifest and its files
     */
    public Session read(Path folderOrManifest) throws ManifestException {
        return read(folderOrManifest, true);
    }

    /**
     * A session to which takes are still being added: it may have no take, or one load only. Strict in all else.
     *
     * @param folderOrManifest the folder that holds {@code session.yaml}, or a manifest of any name
     * @throws ManifestException with everything that is wrong with the manifest and its files
     */
    public Session readUnfinished(Path folderOrManifest) throws ManifestException {
        return read(folderOrManifest, false);
    }

    /**
     * What a manifest says, whether or not the audio files that it names are there and fit.
     *
     * @param folderOrManifest the folder that holds {@code session.yaml}, or a manifest of any name
     * @throws ManifestException with everything that is wrong with the manifest itself
     */
    public static Session readManifest(Path folderOrManifest) throws ManifestException {
        ManifestPlace place = ManifestPlace.of(folderOrManifest);
        return parse(place.text(), place.name(), place.folder(), false, null);
    }

    private Session read(Path path, boolean finished) throws ManifestException {
        ManifestPlace place = ManifestPlace.of(path);
        return parse(place.text(), place.name(), place.folder(), finished, probe);
    }

    /**
     * A session from the text of a manifest.
     *
     * @param probe null when the audio files need not exist
     */
    static Session parse(String text, String name, Path folder, boolean finished, @Nullable AudioProbe probe)
            throws ManifestException {
        Problems problems = new Problems(name);
        Section manifest = Section.root(text, KEYS, INPUT, problems);
        manifest.checkVersion(VERSION);
        Microphone microphone = MicrophoneSection.read(manifest);
        InputSection.Input input = InputSection.read(manifest, folder, problems);
        StimulusSection stimulus = StimulusSection.read(manifest);
        List<TakeSection> takes = TakeList.read(manifest, finished, problems);
        if (probe != null) {
            new SessionFiles(folder, probe).check(takes, stimulus);
        }
        Double drift = manifest.fromZero("level_drift_percent", 100, "%");
        String operator = manifest.text("operator");
        String workshop = manifest.text("workshop");
        String notes = manifest.text("notes");
        problems.throwIfAny();
        if (microphone == null || input == null) {
            throw new IllegalStateException("a part of " + name + " is unusable without a problem reported");
        }
        return new Session(
                folder,
                microphone,
                input.impedance(),
                input.curveFile(),
                stimulus == null ? null : stimulus.stimulus(),
                takes.stream().map(TakeSection::take).toList(),
                drift,
                operator,
                workshop,
                notes);
    }
}
