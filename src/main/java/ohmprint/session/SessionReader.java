package ohmprint.session;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import ohmprint.curve.Microphone;
import ohmprint.manifest.ManifestException;
import ohmprint.manifest.ManifestText;
import ohmprint.manifest.Problems;
import ohmprint.manifest.Section;
import org.jspecify.annotations.Nullable;

/** Reads a session strictly: see the package comment for the format. */
public final class SessionReader {
    private static final String VERSION = "1";
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

    private Session read(Path path, boolean finished) throws ManifestException {
        boolean isFolder = Files.isDirectory(path);
        Path manifest = isFolder ? path.resolve(Session.MANIFEST) : path;
        Path parent = manifest.getParent();
        Path folder = isFolder ? path : parent == null ? Path.of("") : parent;
        String name = String.valueOf(manifest.getFileName());
        if (!Files.isRegularFile(manifest)) {
            Problems problems = new Problems(manifest.toString());
            problems.add(0, isFolder ? noManifest(path) : "does not exist; give a session folder or its manifest");
            throw problems.exception();
        }
        return parse(ManifestText.read(manifest, name), name, folder, finished, probe);
    }

    private static String noManifest(Path folder) {
        return Files.exists(folder.resolve("session.yml"))
                ? "does not exist, but session.yml does; rename it to " + Session.MANIFEST
                : "does not exist; give a folder that holds a " + Session.MANIFEST;
    }

    /**
     * A session from the text of a manifest.
     *
     * @param probe null when the audio files need not exist
     */
    static Session parse(String text, String name, Path folder, boolean finished, @Nullable AudioProbe probe)
            throws ManifestException {
        Problems problems = new Problems(name);
        Section manifest = Section.root(text, KEYS, problems);
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
