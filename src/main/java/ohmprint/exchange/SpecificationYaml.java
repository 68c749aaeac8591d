package ohmprint.exchange;

import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import ohmprint.conformity.ReferenceCurve;
import ohmprint.conformity.ReferenceCurve.Point;
import ohmprint.conformity.Specification;
import ohmprint.conformity.Specification.AppliesTo;
import ohmprint.conformity.Specification.MaskRange;
import ohmprint.conformity.Specification.RatedImpedance;
import ohmprint.conformity.Specification.ResonanceWindow;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Measurement;
import ohmprint.text.Numbers;
import ohmprint.yaml.ManifestException;
import ohmprint.yaml.ManifestText;
import ohmprint.yaml.Problems;
import ohmprint.yaml.Section;
import org.jspecify.annotations.Nullable;

/**
 * A specification as YAML, version 1, written and read; keys as described for the package. The two stand together, because
 * what one writes the other reads back equal.
 */
public final class SpecificationYaml {
    /** Value of {@code version}. */
    private static final String VERSION = "1";

    private SpecificationYaml() {}

    /** Finds the curve that a specification names. */
    @FunctionalInterface
    public interface Curves {
        /** None is found: for a specification that has to stand alone. */
        Curves NONE = file -> {
            throw new IOException("this specification has to stand alone");
        };

        /**
         * The measurement in a file.
         *
         * @param file as the specification names it
         * @throws IOException if it cannot be read; the message tells why
         */
        Measurement read(String file) throws IOException;
    }

    /**
     * Reads a specification.
     *
     * @param text the whole file
     * @param name file name for messages; without its ending also the specification's name unless it states another
     * @param curves finds a curve that it names
     * @throws ManifestException with everything that is wrong, each with line and next step
     */
    public static Specification read(String text, String name, Curves curves) throws ManifestException {
        return Reader.read(text, name, curves);
    }

    /** The text of a specification, which {@link #read} reads back equal; a reference is written out as points. */
    public static String write(Specification specification) {
        return ManifestText.write(tree(specification), true);
    }

    private static Map<String, Object> tree(Specification specification) {
        Map<String, Object> tree = new LinkedHashMap<>();
        tree.put("version", 1);
        tree.put("name", specification.name());
        ManifestText.put(tree, "notes", specification.notes());
        if (!specification.appliesTo().equals(AppliesTo.ALL)) {
            Map<String, Object> part = new LinkedHashMap<>();
            ManifestText.put(part, "maker", specification.appliesTo().maker());
            ManifestText.put(part, "model", specification.appliesTo().model());
            ManifestText.put(part, "transducer", specification.appliesTo().transducer());
            tree.put("microphone", part);
        }
        RatedImpedance rated = specification.rated();
        if (rated != null) {
            tree.put(
                    "rated_impedance",
                    numbers("ohm", rated.ohm(), "tolerance_percent", rated.tolerancePercent(), "at_hz", rated.atHz()));
        }
        if (!specification.mask().isEmpty()) {
            tree.put(
                    "mask",
                    specification.mask().stream().map(SpecificationYaml::range).toList());
        }
        ResonanceWindow window = specification.resonance();
        if (window != null) {
            tree.put(
                    "resonance",
                    numbers(
                            "from_hz", window.fromHz(),
                            "to_hz", window.toHz(),
                            "search_from_hz", window.searchFromHz(),
                            "search_to_hz", window.searchToHz()));
        }
        if (specification.reference() != null) {
            tree.put("reference", reference(specification.reference()));
        }
        return tree;
    }

    private static Map<String, Object> range(MaskRange range) {
        Map<String, Object> part = numbers("from_hz", range.fromHz(), "to_hz", range.toHz());
        if (range.limits().hasLow()) {
            ManifestText.put(part, "min_ohm", range.minOhm());
        }
        if (range.limits().hasHigh()) {
            ManifestText.put(part, "max_ohm", range.maxOhm());
        }
        return part;
    }

    private static Map<String, Object> reference(ReferenceCurve reference) {
        Map<String, Object> part = numbers("from_hz", reference.fromHz(), "to_hz", reference.toHz());
        ManifestText.put(part, "units", reference.units());
        List<Map<String, Object>> points = new ArrayList<>();
        for (Point point : reference.points()) {
            Map<String, Object> item = numbers(
                    "hz", point.hz(), "ohm", point.ohm(), "low_ohm", point.lowOhm(), "high_ohm", point.highOhm());
            if (point.u95Percent() > 0) {
                ManifestText.put(item, "u95_percent", point.u95Percent());
            }
            points.add(item);
        }
        part.put("points", points);
        return part;
    }

    private static Map<String, Object> numbers(Object... keysAndValues) {
        Map<String, Object> part = new LinkedHashMap<>();
        for (int i = 0; i < keysAndValues.length; i += 2) {
            ManifestText.put(part, (String) keysAndValues[i], keysAndValues[i + 1]);
        }
        return part;
    }

    /** Reads a specification strictly. */
    private static final class Reader {
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

        private Reader(Section spec, Problems problems) {
            this.spec = spec;
            this.problems = problems;
        }

        static Specification read(String text, String name, Curves curves) throws ManifestException {
            Problems problems = new Problems(name);
            Section spec = Section.root(text, KEYS, problems);
            spec.checkVersion(VERSION);
            Reader reader = new Reader(spec, problems);
            String stated = spec.text("name");
            String notes = spec.text("notes");
            AppliesTo appliesTo = reader.appliesTo();
            RatedImpedance rated = reader.rated();
            List<MaskRange> mask = reader.mask();
            ResonanceWindow resonance = reader.resonance();
            ReferenceCurve reference = Reference.read(spec, problems, curves);
            if (!spec.has("rated_impedance") && !spec.has("mask") && !spec.has("resonance") && !spec.has("reference")) {
                problems.add(
                        0,
                        "requires nothing; add rated_impedance, such as {ohm: 300, tolerance_percent: 20}, or a mask");
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
            String wanted =
                    "write a list of ranges, such as - {from_hz: 200, to_hz: 10000, min_ohm: 200, max_ohm: 400}";
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

    /** Reads its {@code reference}. */
    private static final class Reference {
        private static final List<String> KEYS =
                List.of("points", "curve", "tolerance_percent", "from_hz", "to_hz", "units");
        /** Most points of a reference: four for each band of ten octaves in 24ths. */
        private static final int MOST_POINTS = 1000;

        private static final List<String> POINT = List.of("hz", "ohm", "low_ohm", "high_ohm", "u95_percent");
        private static final String WANTED =
                "write two or more points by ascending frequency, such as - {hz: 1000, low_ohm: 280, high_ohm: 325}";

        private final Section part;
        private final Problems problems;
        private final @Nullable Double tolerance;

        private Reference(Section part, Problems problems) {
            this.part = part;
            this.problems = problems;
            this.tolerance = Reader.tolerance(part);
        }

        /** Null when there is none, or something is wrong with it, which goes to the problems. */
        static @Nullable ReferenceCurve read(Section spec, Problems problems, Curves curves) {
            int before = problems.count();
            Section part = spec.section("reference", KEYS);
            if (part == null) {
                return null;
            }
            Reference section = new Reference(part, problems);
            if (part.has("curve") && part.has("points")) {
                part.report("curve", "is given beside points; keep one of the two");
            }
            List<Point> points = part.has("curve") ? section.measured(curves) : section.written();
            Double from = part.positive("from_hz", "Hz", "");
            Double to = part.positive("to_hz", "Hz", "");
            Integer units = section.units();
            return problems.count() > before ? null : section.curve(points, from, to, units);
        }

        private @Nullable ReferenceCurve curve(
                List<Point> points, @Nullable Double from, @Nullable Double to, @Nullable Integer units) {
            String key = part.has("curve") ? "curve" : "points";
            if (points.size() < 2) {
                part.report(
                        key,
                        "holds " + (points.isEmpty() ? "no point" : "one point") + " with a value; "
                                + (part.has("curve") ? "name a curve with values" : WANTED));
                return null;
            }
            double first = points.get(0).hz();
            double last = points.get(points.size() - 1).hz();
            double low = from == null ? first : from;
            double high = to == null ? last : to;
            if (low < first || low >= high || high > last) {
                part.report(
                        from == null ? "to_hz" : "from_hz",
                        "makes the range " + Numbers.inFile(low) + " Hz to " + Numbers.inFile(high)
                                + " Hz, but the reference holds " + Numbers.inFile(first) + " Hz to "
                                + Numbers.inFile(last)
                                + " Hz; give a range inside it");
                return null;
            }
            return new ReferenceCurve(points, low, high, units);
        }

        private List<Point> measured(Curves curves) {
            List<Point> points = new ArrayList<>();
            String file = part.text("curve");
            part.require("tolerance_percent", "give how far a curve may lie from this one, in percent");
            if (file == null || tolerance == null) {
                return points;
            }
            try {
                Measurement measurement = curves.read(file);
                if (measurement.curve().parallelWithInput()) {
                    part.report(
                            "curve",
                            "is " + part.shown("curve")
                                    + ", a curve in parallel with an unknown input; name one that was"
                                    + " measured with a known input");
                }
                for (BandValue v : measurement.curve().values()) {
                    if (v.isMeasured() && v.magnitudeOhm() > 0 && v.magnitudeU95Ohm() >= 0) {
                        points.add(around(
                                v.frequencyHz(),
                                v.magnitudeOhm(),
                                tolerance,
                                100 * v.magnitudeU95Ohm() / v.magnitudeOhm()));
                    }
                }
            } catch (IOException e) {
                part.report(
                        "curve",
                        "is " + part.shown("curve") + ", which cannot be read (" + Problems.shown(reason(e))
                                + "); name a curve.json, relative to the folder of this file");
            }
            return points;
        }

        private static String reason(IOException e) {
            return e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
        }

        private List<Point> written() {
            List<Point> points = new ArrayList<>();
            part.require("points", WANTED);
            List<@Nullable Section> items = part.sections("points", WANTED, POINT);
            if (items == null) {
                return points;
            }
            if (items.size() > MOST_POINTS) {
                part.report("points", "has " + items.size() + " points; write at most " + MOST_POINTS);
                return points;
            }
            Double last = null;
            for (Section item : items) {
                Point point = item == null ? null : point(item);
                if (item != null && point != null) {
                    if (last != null && point.hz() <= last) {
                        item.report(
                                "hz",
                                "is " + item.shown("hz") + " Hz, not above the point before it, " + Numbers.inFile(last)
                                        + " Hz; sort the points by frequency, each once");
                    }
                    last = point.hz();
                    points.add(point);
                }
            }
            return points;
        }

        private @Nullable Point point(Section item) {
            int before = problems.count();
            item.require("hz", "give the frequency in hertz");
            Double hz = item.positive("hz", "Hz", "");
            Double ohm = item.positive("ohm", "Ω", "");
            Double low = item.positive("low_ohm", "Ω", "");
            Double high = item.positive("high_ohm", "Ω", "");
            Double u95 = item.has("u95_percent") ? item.fromZero("u95_percent", 100, "%") : Double.valueOf(0);
            if (item.has("low_ohm") || item.has("high_ohm")) {
                item.require("low_ohm", "give both limits");
                item.require("high_ohm", "give both limits");
            } else if (tolerance == null) {
                item.require("low_ohm", "give low_ohm and high_ohm, or tolerance_percent of the reference");
            } else {
                item.require("ohm", "give the reference in ohms, or low_ohm and high_ohm");
            }
            if (low != null && high != null) {
                double middle = ohm == null ? Math.sqrt(low * high) : ohm;
                if (low >= high || middle < low || middle > high) {
                    item.report(
                            "high_ohm",
                            "is " + item.shown("high_ohm") + " Ω with low_ohm " + item.shown("low_ohm")
                                    + " Ω" + (ohm == null ? "" : " and ohm " + item.shown("ohm") + " Ω")
                                    + "; give low_ohm the smallest and high_ohm the largest value");
                } else if (problems.count() == before && hz != null && u95 != null) {
                    return new Point(hz, middle, low, high, u95);
                }
            }
            return problems.count() > before || hz == null || ohm == null || tolerance == null || u95 == null
                    ? null
                    : around(hz, ohm, tolerance, u95);
        }

        private static Point around(double hz, double ohm, double tolerancePercent, double u95Percent) {
            return new Point(
                    hz, ohm, ohm * (1 - tolerancePercent / 100), ohm * (1 + tolerancePercent / 100), u95Percent);
        }

        private @Nullable Integer units() {
            Double units = part.positive("units", "microphones", "");
            if (units != null && (units != Math.rint(units) || units > Integer.MAX_VALUE)) {
                part.report("units", "is " + part.shown("units") + "; give a whole number of microphones");
                return null;
            }
            return units == null ? null : Integer.valueOf(units.intValue());
        }
    }
}
