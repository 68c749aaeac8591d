package ohmprint.app.match;

import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.match.MatchRequest.Electronics;
import ohmprint.circuit.AddedInput;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.StatedInput;
import ohmprint.circuit.ThermalNoise;
import ohmprint.session.InputSection;
import ohmprint.yaml.ManifestException;
import ohmprint.yaml.ManifestText;
import ohmprint.yaml.Problems;
import ohmprint.yaml.Section;
import org.jspecify.annotations.Nullable;

/**
 * The file in which a workshop lists its inputs, version 1:
 *
 * <pre>{@code
 * version: 1
 * inputs:
 *   - {name: OpenSession channel 1, resistance_ohm: 2400, capacitance_pf: 470, gain_db: 60, ein_dbu: -127}
 *   - {name: Rack 2, curve: rack-2.csv, gain_db: 72, voltage_noise_nv: 1.1, current_noise_pa: 1.5}
 * boosters:
 *   - {name: Line booster, resistance_ohm: 20000, gain_db: 25, output_ohm: 150, voltage_noise_nv: 1.3}
 * }</pre>
 *
 * <p>An input has a name, the keys that the input of a session has (an unknown resistance is refused), and {@code gain_db},
 * {@code ein_dbu}, {@code ein_source_ohm}, {@code voltage_noise_nv} (nV/√Hz), {@code current_noise_pa} (pA/√Hz). A booster
 * has {@code output_ohm} besides, and has to state its gain. Everything that is wrong is reported together, each with its
 * line.
 *
 * @param inputs one or more, in the order of the file
 * @param boosters none or more
 */
record InputsFile(List<MatchInput> inputs, List<MatchInput> boosters) {
    private static final List<String> TOP = List.of("version", "inputs", "boosters");
    private static final List<String> ELECTRONICS =
            List.of("name", "gain_db", "ein_dbu", "ein_source_ohm", "voltage_noise_nv", "current_noise_pa");
    private static final List<String> INPUT_KEYS =
            Stream.concat(ELECTRONICS.stream(), InputSection.KEYS.stream()).toList();
    private static final List<String> BOOSTER_KEYS =
            Stream.concat(INPUT_KEYS.stream(), Stream.of("output_ohm")).toList();
    private static final double MOST_DB = 200;
    private static final String ITEMS = "write a list, each item with name and resistance_ohm";

    /** Copies the lists. */
    InputsFile {
        inputs = List.copyOf(inputs);
        boosters = List.copyOf(boosters);
    }

    /**
     * Reads it.
     *
     * @throws BadInputException with everything that is wrong with it
     */
    static InputsFile read(Path file) throws BadInputException {
        if (!Files.isRegularFile(file)) {
            throw new BadInputException("--inputs " + file + (Files.exists(file) ? " is no file" : " is not there")
                    + "; give the path of a file that lists inputs");
        }
        String name = String.valueOf(file.getFileName());
        Path parent = file.getParent();
        try {
            return new Reading(new Problems(name), parent == null ? Path.of("") : parent)
                    .read(ManifestText.read(file, name));
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /**
     * The files that it names.
     *
     * @throws BadInputException if it cannot be read as YAML
     */
    static List<Path> curves(Path file) throws BadInputException {
        String name = String.valueOf(file.getFileName());
        try {
            Section top = Section.root(ManifestText.read(file, name), TOP, new Problems(name));
            List<Path> out = new ArrayList<>();
            for (String key : List.of("inputs", "boosters")) {
                List<@Nullable Section> items = top.sections(key, ITEMS, BOOSTER_KEYS);
                for (Section item : items == null ? List.<@Nullable Section>of() : items) {
                    String curve = item == null ? null : item.text("curve");
                    if (curve != null) {
                        out.add(file.resolveSibling(curve));
                    }
                }
            }
            return out;
        } catch (ManifestException | InvalidPathException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private record Reading(Problems problems, Path folder, Map<String, Integer> names) {
        Reading(Problems problems, Path folder) {
            this(problems, folder, new HashMap<>());
        }

        InputsFile read(String text) throws ManifestException {
            Section top = Section.root(text, TOP, problems);
            top.checkVersion("1");
            List<MatchInput> inputs = top.require("inputs", ITEMS) ? items(top, "inputs", INPUT_KEYS) : List.of();
            List<MatchInput> boosters = items(top, "boosters", BOOSTER_KEYS);
            problems.throwIfAny();
            return new InputsFile(inputs, boosters);
        }

        private List<MatchInput> items(Section top, String key, List<String> known) {
            List<MatchInput> out = new ArrayList<>();
            List<@Nullable Section> sections = top.sections(key, ITEMS, known);
            if (sections != null && sections.isEmpty()) {
                top.report(key, "is an empty list; " + ITEMS);
            }
            for (Section part : sections == null ? List.<@Nullable Section>of() : sections) {
                MatchInput input = part == null ? null : item(part, key.equals("boosters"));
                if (input != null) {
                    out.add(input);
                }
            }
            return out;
        }

        private @Nullable MatchInput item(Section part, boolean booster) {
            part.require("name", "give what the bench calls it");
            String name = part.text("name");
            if (name != null) {
                Integer first = names.putIfAbsent(name, part.lineOf("name"));
                if (first != null) {
                    part.report("name", "is '" + Problems.shown(name) + "', as on line " + first + "; give another");
                }
            }
            if (part.isWord("resistance_ohm", "unknown")) {
                part.report("resistance_ohm", "is unknown, with which nothing can be predicted; give it in ohms");
                return null;
            }
            InputSection.Input input = InputSection.of(part, folder, problems);
            if (booster) {
                part.require("gain_db", "give the gain of the booster in decibels");
            }
            Electronics electronics = new Electronics(
                    decibels(part, "gain_db"),
                    decibels(part, "ein_dbu"),
                    part.fromZero("ein_source_ohm", Double.POSITIVE_INFINITY, "Ω"),
                    part.fromZero("voltage_noise_nv", Double.POSITIVE_INFINITY, "nV/√Hz"),
                    part.fromZero("current_noise_pa", Double.POSITIVE_INFINITY, "pA/√Hz"));
            Double output = booster ? part.fromZero("output_ohm", Double.POSITIVE_INFINITY, "Ω") : null;
            if (part.has("ein_source_ohm") && !part.has("ein_dbu")) {
                part.report("ein_source_ohm", "is given without ein_dbu, which it belongs to; add that");
            }
            checkNoise(part, electronics);
            return input == null || name == null
                    ? null
                    : new MatchInput(
                            name, input.impedance(), ohm(input.impedance()), output == null ? 0 : output, electronics);
        }

        private static void checkNoise(Section part, Electronics electronics) {
            try {
                electronics.noise(MatchRequest.ROOM_CELSIUS + ThermalNoise.ZERO_CELSIUS);
            } catch (IllegalArgumentException e) {
                part.report(part.has("ein_dbu") ? "ein_dbu" : "voltage_noise_nv", "cannot be: " + e.getMessage());
            }
        }

        private static @Nullable Double decibels(Section part, String key) {
            Double value = part.number(key, "dB", "");
            if (value != null && !(Math.abs(value) <= MOST_DB)) {
                part.report(key, "is " + part.shown(key) + " dB; give a number from -200 to 200");
                return null;
            }
            return value;
        }

        private static double ohm(InputImpedance impedance) {
            if (impedance instanceof AddedInput added) {
                return ohm(added.bare());
            }
            return impedance instanceof StatedInput stated ? stated.ohm() : Double.NaN;
        }
    }
}
