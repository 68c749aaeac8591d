package ohmprint.session;

import java.time.OffsetDateTime;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.function.Function;
import ohmprint.circuit.Load;
import ohmprint.curve.Permitted;
import ohmprint.manifest.Problems;
import ohmprint.manifest.Section;
import ohmprint.manifest.YamlTree;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.nodes.Node;

/**
 * One item of the list of takes in a manifest.
 *
 * @param section where it stands, for messages
 * @param take what it says
 */
record TakeSection(Section section, Take take) {
    static final String OPEN = "open";

    private static final List<String> KEYS = List.of(
            "file", "load_ohm", "load_tolerance_percent", "load_u_ohm", "channel", "reference_channel", "note", "time");

    /** Null when something is wrong with the take, which goes to the problems. */
    static @Nullable TakeSection read(Node node, int index, Problems problems) {
        return read(node, index, problems, KEYS, TakeSection::load);
    }

    /**
     * The same for takes whose resistor is described otherwise.
     *
     * @param keys keys that a take may have
     * @param resistor reads the resistor; null with a problem reported
     */
    static @Nullable TakeSection read(
            Node node, int index, Problems problems, List<String> keys, Function<Section, @Nullable Load> resistor) {
        int before = problems.count();
        Section part = Section.of(node, "takes[" + index + "]", YamlTree.line(node.getStartMark()), keys, problems);
        if (part == null) {
            return null;
        }
        part.require("file", "name the recording");
        String file = part.text("file");
        Load load = resistor.apply(part);
        Integer channel = part.has("channel") ? part.channel("channel") : Integer.valueOf(1);
        Integer reference = part.channel("reference_channel");
        if (channel != null && channel.equals(reference)) {
            part.report(
                    "reference_channel",
                    "is " + reference + ", the channel of the microphone itself; give the channel that hears the "
                            + "source but not the load, or delete the key");
        }
        String note = part.text("note");
        OffsetDateTime time = time(part);
        if (file == null || load == null || channel == null || problems.count() > before) {
            return null;
        }
        return new TakeSection(part, new Take(file, load, channel, reference, note, time));
    }

    private static @Nullable Load load(Section part) {
        Double tolerance = part.fromZero("load_tolerance_percent", 100, "%");
        Double uncertainty = part.zeroOrWithin("load_u_ohm", Permitted.UNCERTAINTY_OHM);
        if (!part.require("load_ohm", "give the resistor in ohms, or open")) {
            return null;
        }
        if (part.isWord("load_ohm", OPEN)) {
            if (part.has("load_u_ohm")) {
                part.report("load_u_ohm", "has no meaning for an open take; delete it");
            }
            return Load.open();
        }
        Double ohm = part.positive("load_ohm", "Ω", ", or open");
        if (part.has("load_tolerance_percent") && part.has("load_u_ohm")) {
            part.report("load_u_ohm", "is given beside load_tolerance_percent; keep one of the two");
        }
        if (ohm == null || (part.has("load_u_ohm") && uncertainty == null)) {
            return null;
        }
        if (uncertainty == null) {
            return Load.ofOhms(ohm, tolerance == null ? Assumed.LOAD_TOLERANCE_PERCENT : tolerance);
        }
        if (uncertainty >= ohm) {
            part.report(
                    "load_u_ohm",
                    "is " + part.shown("load_u_ohm")
                            + " Ω, not below load_ohm; give the standard uncertainty of the load in ohms");
            return null;
        }
        return Load.measured(ohm, uncertainty);
    }

    private static @Nullable OffsetDateTime time(Section part) {
        String text = part.text("time");
        if (text == null) {
            return null;
        }
        try {
            return OffsetDateTime.parse(text);
        } catch (DateTimeParseException e) {
            part.report(
                    "time",
                    "is '" + Problems.shown(text) + "'; write date, time and offset like 2031-05-04T16:20:00+02:00");
            return null;
        }
    }
}
