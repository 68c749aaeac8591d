package ohmprint.manifest;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.nodes.MappingNode;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.NodeTuple;
import org.yaml.snakeyaml.nodes.ScalarNode;

/**
 * The entries of one mapping, each known key once, with their places in the text. What cannot be an entry goes to the
 * problems: a key that is not known, one given again, one that is no text.
 */
final class Entries {
    private final String path;
    private final int line;
    private final Problems problems;
    private final Map<String, Node> values = new HashMap<>();
    private final Map<String, Integer> keyLines = new HashMap<>();

    /**
     * Takes a mapping apart.
     *
     * @param path path for messages, empty for the whole manifest
     * @param line line for messages about the mapping as a whole
     */
    Entries(MappingNode node, String path, int line, List<String> known, Problems problems) {
        this.path = path;
        this.line = line;
        this.problems = problems;
        for (NodeTuple entry : node.getValue()) {
            int at = line(entry.getKeyNode());
            if (entry.getKeyNode() instanceof ScalarNode key) {
                add(key.getValue(), at, entry.getValueNode(), known);
            } else {
                problems.add(at, name(path) + " has a list or mapping as a key; write key: value");
            }
        }
    }

    private void add(String key, int at, Node value, List<String> known) {
        Integer first = keyLines.putIfAbsent(key, at);
        if (first != null) {
            problems.add(at, path(key) + " is given again, first on line " + first + "; keep one of the two");
        } else if (!known.contains(key)) {
            problems.add(at, unknown(key, known));
        } else {
            values.put(key, value);
        }
    }

    private String unknown(String key, List<String> known) {
        String hint = NearestKey.to(key, known)
                .map(near -> "did you mean " + near + "?")
                .orElseGet(() -> "known here: " + String.join(", ", known));
        return path(key) + " is not a known key; " + hint;
    }

    /** The value of a key; null when it is absent. */
    @Nullable
    Node value(String key) {
        return values.get(key);
    }

    /** The path of a key, as messages name it. */
    String path(String key) {
        String shown = Problems.shown(key);
        return path.isEmpty() ? shown : path + "." + shown;
    }

    /** Line of a key, or of the mapping when the key is absent. */
    int keyLine(String key) {
        return keyLines.getOrDefault(key, line);
    }

    /** Line of a value, or of the mapping when the key is absent. */
    int line(String key) {
        Node value = values.get(key);
        return value == null ? line : line(value);
    }

    /** Reports something about a value, in its line, or in that of the mapping when the key is absent. */
    void report(String key, String message) {
        problems.add(line(key), path(key) + " " + message);
    }

    /** A value as a message shows it. */
    String shown(String key) {
        Node value = values.get(key);
        return value == null ? "absent" : YamlValue.shown(value);
    }

    /** What messages call a mapping with this path. */
    static String name(String path) {
        return path.isEmpty() ? "the manifest" : path;
    }

    /** Line of a node. */
    static int line(Node node) {
        return YamlTree.line(node.getStartMark());
    }
}
