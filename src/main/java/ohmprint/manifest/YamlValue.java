package ohmprint.manifest;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.DumperOptions.ScalarStyle;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.ScalarNode;
import org.yaml.snakeyaml.nodes.SequenceNode;

/** How a value stands in the manifest, and how messages show it. */
final class YamlValue {
    private static final List<String> NULLS = List.of("~", "null", "Null", "NULL");

    private YamlValue() {}

    /** True for a value in quotes or a block of text. */
    static boolean isQuoted(@Nullable Node node) {
        return node instanceof ScalarNode scalar && scalar.getScalarStyle() != ScalarStyle.PLAIN;
    }

    /** True for one of the words that YAML reads as no value. */
    static boolean isNull(ScalarNode scalar) {
        return !isQuoted(scalar) && NULLS.contains(scalar.getValue());
    }

    /** A number as written, other text in quotes, the rest in words. */
    static String shown(Node node) {
        return node instanceof ScalarNode scalar && !isQuoted(scalar) && PlainNumber.isNumber(scalar.getValue())
                ? scalar.getValue()
                : describe(node);
    }

    /** Text in quotes, the rest in words. */
    static String describe(Node node) {
        if (node instanceof ScalarNode scalar) {
            return scalar.getValue().isBlank() || isNull(scalar)
                    ? "empty"
                    : "'" + Problems.shown(scalar.getValue()) + "'";
        }
        return node instanceof SequenceNode ? "a list" : "a mapping";
    }
}
