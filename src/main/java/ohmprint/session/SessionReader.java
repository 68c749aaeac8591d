package ohmprint.session;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import ohmprint.impedance.Microphone;
import ohmprint.yaml.ManifestException;
import ohmprint.yaml.ManifestText;
import ohmprint.yaml.Problems;
import ohmprint.yaml.Section;
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
    private static final List<String> MICROPHONE = List.of(
            "label",
            "maker",
            "model",
            "serial",
            "transducer",
            "rated_impedance_ohm",
            "rated_minimum_load_ohm",
            "notes");
    private static final List<String> TRANSDUCERS = List.of("moving-coil", "ribbon", "condenser", "other");

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
        return parse(ManifestPlace.of(folderOrManifest), false, null);
    }

    private Session read(Path path, boolean finished) throws ManifestException {
        return parse(ManifestPlace.of(path), finished, probe);
    }

    /**
     * A session from the text of a manifest.
     *
     * @param probe null when the audio files need not exist
     */
    static Session parse(ManifestPlace place, boolean finished, @Nullable AudioProbe probe) throws ManifestException {
        Problems problems = new Problems(place.name());
        Section manifest = Section.root(place.text(), KEYS, INPUT, problems);
        manifest.checkVersion(VERSION);
        Microphone microphone = microphone(manifest);
        InputSection.Input input = InputSection.read(manifest, place.folder(), problems);
        StimulusSection stimulus = StimulusSection.read(manifest);
        List<TakeList.Item> takes = TakeList.read(manifest, finished);
        if (probe != null) {
            new SessionFiles(place.folder(), probe).check(takes, stimulus);
        }
        return session(place, manifest, microphone, input, stimulus, takes, problems);
    }

    /**
     * The session of parts that were read, with what stands beside them in a manifest of either kind.
     *
     * @throws ManifestException if a problem was found
     */
    static Session session(
            ManifestPlace place,
            Section manifest,
            @Nullable Microphone microphone,
            InputSection.@Nullable Input input,
            @Nullable StimulusSection stimulus,
            List<TakeList.Item> takes,
            Problems problems)
            throws ManifestException {
        Double drift = manifest.fromZero("level_drift_percent", 100, "%");
        String operator = manifest.text("operator");
        String workshop = manifest.text("workshop");
        String notes = manifest.text("notes");
        problems.throwIfAny();
        if (microphone == null || input == null) {
            throw new IllegalStateException("a part of " + place.name() + " is unusable without a problem reported");
        }
        return new Session(
                place.folder(),
                microphone,
                input.impedance(),
                input.curveFile(),
                stimulus == null ? null : stimulus.stimulus(),
                takes.stream().map(TakeList.Item::take).toList(),
                drift,
                operator,
                workshop,
                notes);
    }

    private static @Nullable Microphone microphone(Section manifest) {
        if (!manifest.require("microphone", "add it with at least a label, such as microphone: {label: Bench 7}")) {
            return null;
        }
        Section part = manifest.section("microphone", MICROPHONE);
        return part == null ? null : labelled(part, "microphone");
    }

    /**
     * What a section says of a microphone, or of the preamplifier that stands in its place and has fewer keys.
     *
     * @param thing what it is, for messages
     * @return null when it has no label, which goes to the problems
     */
    static @Nullable Microphone labelled(Section part, String thing) {
        part.require("label", "give what the bench calls this " + thing);
        String label = part.text("label");
        Microphone microphone = new Microphone(
                label == null ? "" : label,
                part.text("maker"),
                part.text("model"),
                part.text("serial"),
                part.word("transducer", TRANSDUCERS),
                part.positive("rated_impedance_ohm", "Ω", ""),
                part.positive("rated_minimum_load_ohm", "Ω", ""),
                part.text("notes"));
        return label == null ? null : microphone;
    }

    /**
     * The {@code stimulus} of a manifest.
     *
     * @param section where it stands, for messages
     * @param stimulus what it says
     */
    record StimulusSection(Section section, Stimulus stimulus) {
        private static final List<String> KINDS =
                Arrays.stream(StimulusKind.values()).map(StimulusKind::word).toList();

        /** Null when there is none, or something is wrong with it, which goes to the problems. */
        static @Nullable StimulusSection read(Section manifest) {
            Section part = manifest.section("stimulus", List.of("kind", "file"));
            if (part == null) {
                return null;
            }
            part.require("kind", "write one of " + String.join(", ", KINDS));
            String kind = part.word("kind", KINDS);
            String file = part.text("file");
            return Arrays.stream(StimulusKind.values())
                    .filter(k -> k.word().equals(kind))
                    .findFirst()
                    .map(k -> new StimulusSection(part, new Stimulus(k, file)))
                    .orElse(null);
        }
    }

    /**
     * A manifest that was named by a user.
     *
     * @param folder folder that its files are in
     * @param name its name, for messages
     * @param text its text
     */
    record ManifestPlace(Path folder, String name, String text) {
        /**
         * Finds and reads it.
         *
         * @param folderOrManifest the folder that holds {@code session.yaml}, or a manifest of any name
         * @throws ManifestException if there is none, or it is not text
         */
        static ManifestPlace of(Path folderOrManifest) throws ManifestException {
            boolean isFolder = Files.isDirectory(folderOrManifest);
            Path manifest = isFolder ? folderOrManifest.resolve(Session.MANIFEST) : folderOrManifest;
            Path parent = manifest.getParent();
            Path folder = isFolder ? folderOrManifest : parent == null ? Path.of("") : parent;
            if (!Files.isRegularFile(manifest)) {
                Problems problems = new Problems(manifest.toString());
                problems.add(
                        0,
                        isFolder
                                ? noManifest(folderOrManifest)
                                : "does not exist; give a session folder or its manifest");
                throw problems.exception();
            }
            String name = String.valueOf(manifest.getFileName());
            return new ManifestPlace(folder, name, ManifestText.read(manifest, name));
        }

        private static String noManifest(Path folder) {
            return Files.exists(folder.resolve("session.yml"))
                    ? "does not exist, but session.yml does; rename it to " + Session.MANIFEST
                    : "does not exist; give a folder that holds a " + Session.MANIFEST;
        }
    }
}
