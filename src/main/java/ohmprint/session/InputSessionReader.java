package ohmprint.session;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import ohmprint.circuit.Dual;
import ohmprint.circuit.InputImpedance;
import ohmprint.impedance.Microphone;
import ohmprint.yaml.ManifestException;
import ohmprint.yaml.Problems;
import ohmprint.yaml.Section;
import org.jspecify.annotations.Nullable;

/**
 * Reads the manifest of an input measurement strictly: see the package comment for the format.
 *
 * <p>What comes out is the session that stands for it by {@link Dual}: series resistors as loads, the generator as input,
 * the preamplifier in place of the microphone.
 */
public final class InputSessionReader {
    /** The key by which such a manifest is known. */
    static final String MARK = "preamplifier";

    private static final String GENERATOR = "generator";
    private static final List<String> KEYS = List.of(
            "version", MARK, GENERATOR, "stimulus", "takes", "level_drift_percent", "operator", "workshop", "notes");
    private static final List<String> PREAMPLIFIER = List.of("label", "maker", "model", "serial", "notes");
    private static final List<String> SOURCE = List.of("resistance_ohm", "resistance_tolerance_percent");

    private static final Map<String, String> MICROPHONE = Map.of(
            "microphone",
            "is the manifest of a microphone; measure it with ohmprint measure, or describe the input by " + MARK + ", "
                    + GENERATOR + " and takes with series_ohm");

    private final AudioProbe probe;

    /**
     * A reader.
     *
     * @param probe tells the shape of the audio files that a manifest names
     */
    public InputSessionReader(AudioProbe probe) {
        this.probe = probe;
    }

    /**
     * A session that is ready to be measured.
     *
     * @param folderOrManifest the folder that holds {@code session.yaml}, or a manifest of any name
     * @throws ManifestException with everything that is wrong with the manifest and its files
     */
    public Session read(Path folderOrManifest) throws ManifestException {
        SessionReader.ManifestPlace place = SessionReader.ManifestPlace.of(folderOrManifest);
        Problems problems = new Problems(place.name());
        Section manifest = Section.root(place.text(), KEYS, MICROPHONE, problems);
        manifest.checkVersion(SessionReader.VERSION);
        Microphone preamplifier = preamplifier(manifest);
        InputImpedance generator = generator(manifest);
        SessionReader.StimulusSection stimulus = SessionReader.StimulusSection.read(manifest);
        List<TakeList.Item> takes = TakeList.ofSeries(manifest);
        new SessionFiles(place.folder(), probe).check(takes, stimulus);
        return SessionReader.session(
                place,
                manifest,
                preamplifier,
                generator == null ? null : new InputSection.Input(generator, null),
                stimulus,
                takes,
                problems);
    }

    private static @Nullable Microphone preamplifier(Section manifest) {
        if (!manifest.require(MARK, "add it with at least a label, such as " + MARK + ": {label: Bench preamp 2}")) {
            return null;
        }
        Section part = manifest.section(MARK, PREAMPLIFIER);
        return part == null ? null : SessionReader.labelled(part, "input");
    }

    private static @Nullable InputImpedance generator(Section manifest) {
        if (!manifest.require(
                GENERATOR,
                "state the output impedance of what feeds the resistors, such as " + GENERATOR
                        + ": {resistance_ohm: 100}, or write " + GENERATOR + ": {resistance_ohm: unknown}")) {
            return null;
        }
        Section part = manifest.section(GENERATOR, SOURCE);
        if (part == null || !part.require("resistance_ohm", "give it in ohms, or write resistance_ohm: unknown")) {
            return null;
        }
        Double tolerance = part.fromZero("resistance_tolerance_percent", 100, "%");
        if (part.isWord("resistance_ohm", InputSection.UNKNOWN)) {
            return InputImpedance.unknown();
        }
        Double ohm = part.positive("resistance_ohm", "Ω", ", or unknown");
        return ohm == null
                ? null
                : Dual.generator(ohm, tolerance == null ? Assumed.INPUT_TOLERANCE_PERCENT : tolerance);
    }
}
