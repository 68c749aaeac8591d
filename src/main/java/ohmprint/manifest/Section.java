package ohmprint.manifest;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.nodes.MappingNode;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.NodeTuple;
import org.yaml.snakeyaml.nodes.ScalarNode;
import org.yaml.snakeyaml.nodes.SequenceNode;

/**
 * One mapping of a manifest. Each getter returns null when the key is absent or its value is wrong; what is wrong goes
 * to the problems, with path and line.
 */
public final class Section {
    private static final int LONGEST_TEXT = 10_000;

    private final String path;
    private final int line;
    private final Problems problems;
    private final Map<String, Node> values = new HashMap<>();
    private final Map<String, Integer> keyLines = new HashMap<>();

    private Section(MappingNode node, String path, int line, List<String> known, Problems problems) {
        this.path = path;
        this.line = line;
        this.problems = problems;
        for (NodeTuple entry : node.getValue()) {
            int at = line(entry.getKeyNode());
            if (entry.getKeyNode() instanceof ScalarNode key) {
                add(key.getValue(), at, entry.getValueNode(), known);
            } else {
                problems.add(at, name() + " has a list or mapping as a key; write key: value");
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

    /**
     * A whole manifest.
     *
     * @param text the file
     * @param known keys of its first level
     * @param problems receives what is wrong
     * @throws ManifestException if the text is not one plain YAML mapping
     */
    public static Section root(String text, List<String> known, Problems problems) throws ManifestException {
        return root(text, known, Map.of(), problems);
    }

    /**
     * A whole manifest, told from others that it may be taken for.
     *
     * @param text the file
     * @param known keys of its first level
     * @param foreign keys that show that it is another kind of manifest, each with what it then is and what to do
     * @param problems receives what is wrong
     * @throws ManifestException if the text is not one plain YAML mapping, or one of another kind
     */
    public static Section root(String text, List<String> known, Map<String, String> foreign, Problems problems)
            throws ManifestException {
        Node root = YamlTree.compose(text, problems);
        if (root == null) {
            problems.add(0, "is empty; write it anew or restore it from a backup");
            throw problems.exception();
        }
        if (root instanceof MappingNode mapping) {
            for (NodeTuple entry : mapping.getValue()) {
                if (entry.getKeyNode() instanceof ScalarNode key && foreign.containsKey(key.getValue())) {
                    problems.add(line(root), foreign.get(key.getValue()));
                    throw problems.exception();
                }
            }
        }
        Section manifest = of(root, "", line(root), known, problems);
        if (manifest == null) {
            throw problems.exception();
        }
        return manifest;
    }

    /**
     * Requires the key {@code version} with this value. Another version may mean anything by the other keys, so nothing else
     * is reported then.
     *
     * @throws ManifestException if it is another
     */
    public void checkVersion(String version) throws ManifestException {
        String key = "version";
        if (require(key, "add the line version: " + version) && !isWord(key, version)) {
            problems.clear();
            report(
                    key,
                    "is " + shown(key) + ", but this program reads version " + version
                            + "; use the program that wrote the file, or write it as version: " + version);
            throw problems.exception();
        }
    }

    /**
     * The section in a node.
     *
     * @param path path for messages, empty for the whole manifest
     * @param line line for messages about the section as a whole
     * @return null when the node is not a mapping
     */
    public static @Nullable Section of(Node node, String path, int line, List<String> known, Problems problems) {
        if (node instanceof MappingNode mapping) {
            return new Section(mapping, path, line, known, problems);
        }
        String what = path.isEmpty() ? "the manifest" : path;
        problems.add(
                line(node),
                what + " is " + YamlValue.describe(node) + "; write " + (path.isEmpty() ? "" : "below it ")
                        + "lines of the form key: value, such as " + known.get(0) + ": …");
        return null;
    }

    /** True when the key is there, whatever its value. */
    public boolean has(String key) {
        return values.containsKey(key);
    }

    /** Reports a key as missing unless it is there. */
    public boolean require(String key, String whatToDo) {
        if (!has(key)) {
            problems.add(line, path(key) + " is missing; " + whatToDo);
            return false;
        }
        return true;
    }

    /** Reports something about a value, in the line of the value, or of the section when the key is absent. */
    public void report(String key, String message) {
        problems.add(lineOf(key), path(key) + " " + message);
    }

    /** Line of a value, or of the section when the key is absent. */
    public int lineOf(String key) {
        Node value = values.get(key);
        return value == null ? line : line(value);
    }

    /** A section below this one. */
    public @Nullable Section section(String key, List<String> known) {
        Node value = values.get(key);
        return value == null ? null : of(value, path(key), keyLines.getOrDefault(key, line), known, problems);
    }

    /** The items of a list; empty when the key is absent. */
    public @Nullable List<Node> list(String key, String whatToDo) {
        Node value = values.get(key);
        if (value instanceof SequenceNode sequence) {
            return sequence.getValue();
        }
        if (value != null) {
            report(key, "is " + YamlValue.describe(value) + "; " + whatToDo);
        }
        return null;
    }

    /**
     * The mappings of a list, null in the place of an item that is none, which goes to the problems; null when the key is
     * absent or holds no list.
     *
     * @param whatToDo what to write instead of something else
     * @param known keys of each item
     */
    public @Nullable List<@Nullable Section> sections(String key, String whatToDo, List<String> known) {
        List<Node> nodes = list(key, whatToDo);
        if (nodes == null) {
            return null;
        }
        List<@Nullable Section> items = new ArrayList<>();
        for (Node node : nodes) {
            items.add(of(node, path(key) + "[" + items.size() + "]", line(node), known, problems));
        }
        return items;
    }

    /** True when the value is exactly this word, without quotes or with. */
    public boolean isWord(String key, String word) {
        return values.get(key) instanceof ScalarNode scalar && scalar.getValue().equals(word);
    }

    /** A value as a message shows it. */
    public String shown(String key) {
        Node value = values.get(key);
        return value == null ? "absent" : YamlValue.shown(value);
    }

    /** A text of one line or more. */
    public @Nullable String text(String key) {
        String value = scalar(key, "text");
        if (value != null && value.length() > LONGEST_TEXT) {
            report(key, "has " + value.length() + " characters; shorten it to " + LONGEST_TEXT);
            return null;
        }
        return value;
    }

    /** One of a few words. */
    public @Nullable String word(String key, List<String> words) {
        String value = scalar(key, "one of " + String.join(", ", words));
        if (value != null && !words.contains(value)) {
            report(key, "is '" + Problems.shown(value) + "'; write one of " + String.join(", ", words));
            return null;
        }
        return value;
    }

    /** Yes or no. */
    public @Nullable Boolean flag(String key) {
        String value = word(key, List.of("true", "false"));
        return value == null ? null : Boolean.valueOf(value);
    }

    /** A number above zero, in the given unit. */
    public @Nullable Double positive(String key, String unit, String alternative) {
        Double value = number(key, unit, alternative);
        if (value != null && !(value > 0)) {
            report(key, "is " + shown(key) + " " + unit + "; give a number above 0 " + unit + alternative);
            return null;
        }
        return value;
    }

    /** A number from zero to below a limit, in the given unit. */
    public @Nullable Double fromZero(String key, double limit, String unit) {
        String limits = "from 0 " + unit + (limit < Double.MAX_VALUE ? " to below " + plain(limit) + " " + unit : "");
        Double value = number(key, unit, "");
        if (value != null && !(value >= 0 && value < limit)) {
            report(key, "is " + shown(key) + " " + unit + "; give a number " + limits);
            return null;
        }
        return value;
    }

    /** A channel number from 1. */
    public @Nullable Integer channel(String key) {
        String value = scalar(key, "a channel number");
        if (value == null) {
            return null;
        }
        if (YamlValue.isQuoted(values.get(key)) || !value.matches("[1-9]\\d{0,5}")) {
            report(key, "is " + shown(key) + "; channels count 1, 2, 3 …, give one of the file's");
            return null;
        }
        return Integer.valueOf(value);
    }

    /** Any number, in the given unit. */
    public @Nullable Double number(String key, String unit, String alternative) {
        String value = scalar(key, "a number of " + unit + alternative);
        if (value == null) {
            return null;
        }
        String wrong = YamlValue.isQuoted(values.get(key)) ? "" : PlainNumber.complaint(value);
        if (wrong != null) {
            report(
                    key,
                    "is " + shown(key) + wrong + "; give a plain number in " + unit
                            + ", such as 1500 or 99.8, without unit or separators" + alternative);
            return null;
        }
        return Double.valueOf(value);
    }

    private @Nullable String scalar(String key, String wanted) {
        Node value = values.get(key);
        if (value == null) {
            return null;
        }
        if (!(value instanceof ScalarNode scalar)) {
            report(key, "is " + YamlValue.describe(value) + "; give " + wanted);
            return null;
        }
        if (scalar.getValue().isBlank() || YamlValue.isNull(scalar)) {
            report(key, "is empty; give " + wanted + ", or delete the key");
            return null;
        }
        return scalar.getValue();
    }

    private String path(String key) {
        String shown = Problems.shown(key);
        return path.isEmpty() ? shown : path + "." + shown;
    }

    private String name() {
        return path.isEmpty() ? "the manifest" : path;
    }

    private String unknown(String key, List<String> known) {
        String hint = NearestKey.to(key, known)
                .map(near -> "did you mean " + near + "?")
                .orElseGet(() -> "known here: " + String.join(", ", known));
        return path(key) + " is not a known key; " + hint;
    }

    private static String plain(double value) {
        return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
    }

    private static int line(Node node) {
        return YamlTree.line(node.getStartMark());
    }
}
