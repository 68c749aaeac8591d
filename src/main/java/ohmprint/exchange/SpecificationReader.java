package ohmprint.exchange;

import java.util.ArrayList;
import java.util.List;
import ohmprint.manifest.ManifestException;
import ohmprint.manifest.Problems;
import ohmprint.manifest.Section;
import ohmprint.spec.AppliesTo;
import ohmprint.spec.MaskRange;
import ohmprint.spec.RatedImpedance;
import ohmprint.spec.ReferenceCurve;
import ohmprint.spec.ResonanceWindow;
import ohmprint.spec.Specification;
import org.jspecify.annotations.Nullable;

/** Reads a specification strictly. */
final class SpecificationReader {
    private static final List<String> KEYS =
            List.of("version", "name", "notes", "microphone", "rated_impedance", "mask", "resonance", "reference");
    private static final List<String> MICROPHONE = List.of("maker", "model", "transducer");
    private static final List<String> TRANSDUCERS = List.of("moving-coil", "ribbon", "condenser", "other");
    private static final List<String> RATED = List.of("ohm", "tolerance_percent", "at_hz");
    private static final List<String> MASK = List.of("from_hz", "to_hz", "min_ohm", "max_ohm");
    private static final List<String> RESONANCE = List.of("from_hz", "to_hz", "search_from_hz", "search_to_hz");

    /** Most ranges of a mask: more than one for each band of ten octaves in twelfths. */
    private static final int MOST_RANGES = 200;

    private final Section spec;
    private final Problems problems;

    private SpecificationReader(Section spec, Problems problems) {
        this.spec = spec;
        this.problems = problems;
    }

    static Specification read(String text, String name, SpecificationYaml.Curves curves) throws ManifestException {
        Problems problems = new Problems(name);
        Section spec = Section.root(text, KEYS, problems);
        spec.checkVersion(SpecificationYaml.VERSION);
        SpecificationReader reader = new SpecificationReader(spec, problems);
        String stated = spec.text("name");
        String notes = spec.text("notes");
        AppliesTo appliesTo = reader.appliesTo();
        RatedImpedance rated = reader.rated();
        List<MaskRange> mask = reader.mask();
        ResonanceWindow resonance = reader.resonance();
        ReferenceCurve reference = ReferenceSection.read(spec, problems, curves);
        if (!spec.has("rated_impedance") && !spec.has("mask") && !spec.has("resonance") && !spec.has("reference")) {
            problems.add(
                    0, "requires nothing; add rated_impedance, such as {ohm: 300, tolerance_percent: 20}, or a mask");
        }
        problems.throwIfAny();
        return new Specification(
                stated == null ? withoutEnding(name) : stated, notes, appliesTo, rated, mask, resonance, reference);
    }

    private static String withoutEnding(String name) {
        String shorter = name.replaceFirst("\\.ya?ml$", "");
        return shorter.isEmpty() ? name : shorter;
    }

    private AppliesTo appliesTo() {
        Section part = spec.section("microphone", MICROPHONE);
        return part == null
                ? AppliesTo.ALL
                : new AppliesTo(part.text("maker"), part.text("model"), part.word("transducer", TRANSDUCERS));
    }

    private @Nullable RatedImpedance rated() {
        Section part = spec.section("rated_impedance", RATED);
        if (part == null) {
            return null;
        }
        part.require("ohm", "give the rated impedance in ohms");
        part.require("tolerance_percent", "give the tolerance to both sides in percent");
        Double ohm = part.positive("ohm", "Ω", "");
        Double tolerance = tolerance(part);
        Double at = part.has("at_hz") ? part.positive("at_hz", "Hz", "") : Double.valueOf(RatedImpedance.USUAL_HZ);
        return ohm == null || tolerance == null || at == null ? null : new RatedImpedance(ohm, tolerance, at);
    }

    private List<MaskRange> mask() {
        String wanted = "write a list of ranges, such as - {from_hz: 200, to_hz: 10000, min_ohm: 200, max_ohm: 400}";
        List<@Nullable Section> items = spec.sections("mask", wanted, MASK);
        List<MaskRange> out = new ArrayList<>();
        if (items == null) {
            return out;
        }
        if (items.isEmpty()) {
            spec.report("mask", "is empty; " + wanted + ", or delete the key");
        }
        if (items.size() > MOST_RANGES) {
            spec.report("mask", "has " + items.size() + " ranges; write at most " + MOST_RANGES);
            return out;
        }
        for (Section item : items) {
            MaskRange range = item == null ? null : range(item);
            if (range != null) {
                out.add(range);
            }
        }
        return out;
    }

    private @Nullable MaskRange range(Section item) {
        int before = problems.count();
        Span span = Span.read(item);
        Double min = item.positive("min_ohm", "Ω", ", or delete the key where there is no lower limit");
        Double max = item.positive("max_ohm", "Ω", ", or delete the key where there is no upper limit");
        if (!item.has("max_ohm")) {
            item.require("min_ohm", "give min_ohm, max_ohm or both");
        }
        if (min != null && max != null && min >= max) {
            item.report(
                    "max_ohm",
                    "is " + item.shown("max_ohm") + " Ω, but min_ohm is " + item.shown("min_ohm")
                            + " Ω; give max_ohm the larger value");
        }
        return problems.count() > before || span == null
                ? null
                : new MaskRange(
                        span.fromHz(),
                        span.toHz(),
                        min == null ? 0 : min,
                        max == null ? Double.POSITIVE_INFINITY : max);
    }

    private @Nullable ResonanceWindow resonance() {
        Section part = spec.section("resonance", RESONANCE);
        if (part == null) {
            return null;
        }
        int before = problems.count();
        Span span = Span.read(part);
        Double searchFrom = part.positive("search_from_hz", "Hz", "");
        Double searchTo = part.positive("search_to_hz", "Hz", "");
        if (span != null && searchFrom != null && searchFrom > span.fromHz()) {
            part.report(
                    "search_from_hz",
                    "is " + part.shown("search_from_hz") + " Hz, above from_hz, which is " + part.shown("from_hz")
                            + " Hz; search from at least as low");
        }
        if (span != null && searchTo != null && searchTo < span.toHz()) {
            part.report(
                    "search_to_hz",
                    "is " + part.shown("search_to_hz") + " Hz, below to_hz, which is " + part.shown("to_hz")
                            + " Hz; search at least as far");
        }
        if (problems.count() > before || span == null) {
            return null;
        }
        return new ResonanceWindow(
                span.fromHz(),
                span.toHz(),
                searchFrom == null ? span.fromHz() / ResonanceWindow.USUAL_SEARCH : searchFrom,
                searchTo == null ? span.toHz() * ResonanceWindow.USUAL_SEARCH : searchTo);
    }

    /**
     * A range of frequencies.
     *
     * @param fromHz lower end in hertz
     * @param toHz upper end in hertz, above the lower
     */
    private record Span(double fromHz, double toHz) {
        static @Nullable Span read(Section part) {
            part.require("from_hz", "give the lower end in hertz");
            part.require("to_hz", "give the upper end in hertz");
            Double from = part.positive("from_hz", "Hz", "");
            Double to = part.positive("to_hz", "Hz", "");
            if (from == null || to == null) {
                return null;
            }
            if (from >= to) {
                part.report(
                        "to_hz",
                        "is " + part.shown("to_hz") + " Hz, but from_hz is " + part.shown("from_hz")
                                + " Hz; give from_hz the lower frequency");
                return null;
            }
            return new Span(from, to);
        }
    }

    static @Nullable Double tolerance(Section part) {
        Double tolerance = part.fromZero("tolerance_percent", 100, "%");
        if (tolerance != null && tolerance == 0) {
            part.report("tolerance_percent", "is 0 %; give a number above 0 %, as no measurement is exact");
            return null;
        }
        return tolerance;
    }
}
