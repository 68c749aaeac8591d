package ohmprint.session;

import java.nio.file.Path;
import java.util.List;
import ohmprint.circuit.InputImpedance;
import ohmprint.yaml.Problems;
import ohmprint.yaml.Section;
import org.jspecify.annotations.Nullable;

/** An input as a manifest states it: by values or by the file of its curve. */
public final class InputSection {
    /** The keys of an input. */
    public static final List<String> KEYS = List.of(
            "resistance_ohm",
            "resistance_tolerance_percent",
            "capacitance_pf",
            "capacitance_tolerance_percent",
            "curve",
            "add_phantom_feeds");

    static final String UNKNOWN = "unknown";

    private static final List<String> STATED = List.of(
            "resistance_ohm", "resistance_tolerance_percent", "capacitance_pf", "capacitance_tolerance_percent");

    private InputSection() {}

    /**
     * An input.
     *
     * @param impedance its impedance, feeds included where they are to be added
     * @param curveFile name of the file that its curve came from, or null
     */
    public record Input(InputImpedance impedance, @Nullable String curveFile) {}

    static @Nullable Input read(Section manifest, Path folder, Problems problems) {
        if (!manifest.require(
                "input",
                "state the input impedance of the recording input, such as input: {resistance_ohm: 3000}, "
                        + "or write input: {resistance_ohm: unknown}")) {
            return null;
        }
        Section part = manifest.section("input", KEYS);
        return part == null ? null : of(part, folder, problems);
    }

    /**
     * The input in a section, which may have keys beyond {@link #KEYS}.
     *
     * @param folder where a curve's file lies
     * @return null when something is wrong with it, which goes to the problems
     */
    public static @Nullable Input of(Section part, Path folder, Problems problems) {
        Input bare = part.has("curve") ? curve(part, folder, problems) : stated(part);
        Boolean feeds = part.flag("add_phantom_feeds");
        if (bare == null || feeds == null || !feeds) {
            return bare;
        }
        if (!bare.impedance().isKnown()) {
            part.report("add_phantom_feeds", "is true, which has no meaning for an unknown resistance; delete it");
            return null;
        }
        return new Input(bare.impedance().withPhantomFeeds(), bare.curveFile());
    }

    private static @Nullable Input stated(Section part) {
        double tolerance = or(part.fromZero("resistance_tolerance_percent", 100, "%"), Assumed.INPUT_TOLERANCE_PERCENT);
        double pf = or(part.fromZero("capacitance_pf", Double.POSITIVE_INFINITY, "pF"), 0);
        double pfTolerance = or(
                part.fromZero("capacitance_tolerance_percent", 100, "%"), Assumed.INPUT_CAPACITANCE_TOLERANCE_PERCENT);
        if (!part.require("resistance_ohm", "give it in ohms, or write resistance_ohm: unknown")) {
            return null;
        }
        if (part.isWord("resistance_ohm", UNKNOWN)) {
            return new Input(InputImpedance.unknownResistance(pf, pfTolerance), null);
        }
        Double ohm = part.positive("resistance_ohm", "Ω", ", or unknown");
        return ohm == null ? null : new Input(InputImpedance.ofOhms(ohm, tolerance, pf, pfTolerance), null);
    }

    private static @Nullable Input curve(Section part, Path folder, Problems problems) {
        for (String key : STATED) {
            if (part.has(key)) {
                part.report(key, "is given beside a curve, which replaces it; keep one of the two");
            }
        }
        String name = part.text("curve");
        Path file = name == null ? null : SessionFiles.existing(part, "curve", name, folder);
        InputImpedance impedance =
                file == null || name == null ? null : InputCurve.read(file, Problems.shown(name), problems);
        return impedance == null ? null : new Input(impedance, name);
    }

    private static double or(@Nullable Double value, double otherwise) {
        return value == null ? otherwise : value;
    }
}
