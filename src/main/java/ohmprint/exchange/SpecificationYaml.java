package ohmprint.exchange;

import java.io.IOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import ohmprint.curve.Measurement;
import ohmprint.manifest.ManifestException;
import ohmprint.spec.AppliesTo;
import ohmprint.spec.MaskRange;
import ohmprint.spec.RatedImpedance;
import ohmprint.spec.ReferenceCurve;
import ohmprint.spec.ResonanceWindow;
import ohmprint.spec.Specification;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.DumperOptions;
import org.yaml.snakeyaml.DumperOptions.FlowStyle;
import org.yaml.snakeyaml.DumperOptions.NonPrintableStyle;
import org.yaml.snakeyaml.Yaml;

/** A specification as YAML, version 1; keys as described for the package. */
public final class SpecificationYaml {
    /** Value of {@code version}. */
    static final String VERSION = "1";

    private static final double LARGEST_PLAIN = 1e15;

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
        return SpecificationReader.read(text, name, curves);
    }

    /** The text of a specification, which {@link #read} reads back equal; a reference is written out as points. */
    public static String write(Specification specification) {
        DumperOptions options = new DumperOptions();
        options.setDefaultFlowStyle(FlowStyle.AUTO);
        options.setAllowUnicode(true);
        options.setNonPrintableStyle(NonPrintableStyle.ESCAPE);
        options.setSplitLines(false);
        options.setIndicatorIndent(2);
        options.setIndentWithIndicator(true);
        return new Yaml(options).dump(tree(specification));
    }

    private static Map<String, Object> tree(Specification specification) {
        Map<String, Object> tree = new LinkedHashMap<>();
        tree.put("version", 1);
        tree.put("name", specification.name());
        put(tree, "notes", specification.notes());
        if (!specification.appliesTo().equals(AppliesTo.ALL)) {
            Map<String, Object> part = new LinkedHashMap<>();
            put(part, "maker", specification.appliesTo().maker());
            put(part, "model", specification.appliesTo().model());
            put(part, "transducer", specification.appliesTo().transducer());
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
            part.put("min_ohm", number(range.minOhm()));
        }
        if (range.limits().hasHigh()) {
            part.put("max_ohm", number(range.maxOhm()));
        }
        return part;
    }

    private static Map<String, Object> reference(ReferenceCurve reference) {
        Map<String, Object> part = numbers("from_hz", reference.fromHz(), "to_hz", reference.toHz());
        put(part, "units", reference.units());
        List<Map<String, Object>> points = new ArrayList<>();
        for (ReferenceCurve.Point point : reference.points()) {
            Map<String, Object> item = numbers(
                    "hz", point.hz(), "ohm", point.ohm(), "low_ohm", point.lowOhm(), "high_ohm", point.highOhm());
            if (point.u95Percent() > 0) {
                item.put("u95_percent", number(point.u95Percent()));
            }
            points.add(item);
        }
        part.put("points", points);
        return part;
    }

    private static Map<String, Object> numbers(Object... keysAndValues) {
        Map<String, Object> part = new LinkedHashMap<>();
        for (int i = 0; i < keysAndValues.length; i += 2) {
            part.put((String) keysAndValues[i], number((Double) keysAndValues[i + 1]));
        }
        return part;
    }

    private static void put(Map<String, Object> part, String key, @Nullable Object value) {
        if (value != null) {
            part.put(key, value);
        }
    }

    /** A whole number without a fraction, as a user would write it. */
    private static Object number(double value) {
        return value == Math.rint(value) && Math.abs(value) < LARGEST_PLAIN
                ? BigDecimal.valueOf(value).toBigIntegerExact()
                : (Object) value;
    }
}
