package ohmprint.session;

import java.nio.file.Path;
import java.util.List;
import ohmprint.curve.Microphone;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.nodes.MappingNode;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.ScalarNode;

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
        Node root = root(text, problems);
        if (hasKey(root, InputSessionReader.MARK)) {
            problems.add(
                    YamlTree.line(root.getStartMark()),
                    "is the manifest of a preamplifier's input; measure it with ohmprint input");
            throw problems.exception();
        }
        Section manifest = Section.of(root, "", YamlTree.line(root.getStartMark()), KEYS, problems);
        if (manifest == null) {
            throw problems.exception();
        }
        checkVersion(manifest, problems);
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

    /** The root of a manifest that is not empty. */
    static Node root(String text, Problems problems) throws ManifestException {
        Node root = YamlTree.compose(text, problems);
        if (root == null) {
            problems.add(0, "is empty; write it anew or restore it from a backup");
            throw problems.exception();
        }
        return root;
    }

    /** True when the manifest has a key of this name at its top. */
    static boolean hasKey(Node root, String key) {
        return root instanceof MappingNode mapping
                && mapping.getValue().stream()
                        .anyMatch(t -> t.getKeyNode() instanceof ScalarNode s
                                && s.getValue().equals(key));
    }

    /** Another version may mean anything by the other keys, so nothing else is reported then. */
    static void checkVersion(Section manifest, Problems problems) throws ManifestException {
        if (manifest.require("version", "add the line version: " + VERSION) && !manifest.isWord("version", VERSION)) {
            problems.clear();
            manifest.report(
                    "version",
                    "is " + manifest.shown("version") + ", but this program reads version " + VERSION
                            + "; use the program that wrote the file, or write it as version: " + VERSION);
            throw problems.exception();
        }
    }
}
