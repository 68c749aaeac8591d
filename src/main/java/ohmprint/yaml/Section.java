package ohmprint.yaml;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Pattern;
import ohmprint.impedance.Permitted;
import ohmprint.text.Numbers;
import ohmprint.text.Spelling;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.DumperOptions.ScalarStyle;
import org.yaml.snakeyaml.nodes.MappingNode;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.nodes.NodeTuple;
import org.yaml.snakeyaml.nodes.ScalarNode;
import org.yaml.snakeyaml.nodes.SequenceNode;

/**
 * One mapping of a manifest: its entries, each known key once, with their places in the text.
 *
 * <p>Each getter returns null when the key is absent or its value is wrong. What is wrong goes to the problems, with path and
 * line and what to write instead: so does what cannot be an entry, a key that is not known, one given again, one that is no
 * text.
 */
public final class Section {
    private static final int LONGEST_TEXT = 10_000;
    private static final List<String> NULLS = List.of("~", "null", "Null", "NULL");

    /** A number as people write it: digits, one point, perhaps an exponent; nothing that can be read in two ways. */
    private static final Pattern NUMBER = Pattern.compile("[-+]?(\\d+(\\.\\d*)?|\\.\\d+)([eE][-+]?\\d{1,4})?");

    private static final Pattern LEADING_ZERO = Pattern.compile("[-+]?0\\d.*");
    private static final int LONGEST_NUMBER = 60;

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
            int at = YamlTree.line(entry.getKeyNode());
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
            String hint = nearest(key, known)
                    .map(near -> "did you mean " + near + "?")
                    .orElseGet(() -> "known here: " + String.join(", ", known));
            problems.add(at, path(key) + " is not a known key; " + hint);
        } else {
            values.put(key, value);
        }
    }

    /** The known key nearest to a mistyped one, unless nothing is near. */
    private static Optional<String> nearest(String typed, List<String> known) {
        String wanted = typed.toLowerCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
        String best = null;
        int least = Integer.MAX_VALUE;
        for (String key : known) {
            int edits = Spelling.edits(wanted, key);
            if (edits < least) {
                least = edits;
                best = key;
            }
        }
        boolean near = best != null && least <= Math.max(1, Math.max(best.length(), wanted.length()) / 3);
        if (!near && wanted.length() >= 4) {
            return known.stream().filter(key -> key.startsWith(wanted)).findFirst();
        }
        return near ? Optional.ofNullable(best) : Optional.empty();
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
                    problems.add(YamlTree.line(root), foreign.get(key.getValue()));
                    throw problems.exception();
                }
            }
        }
        Section manifest = of(root, "", YamlTree.line(root), known, problems);
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

    /** The section in a node; null when the node is not a mapping. */
    private static @Nullable Section of(Node node, String path, int line, List<String> known, Problems problems) {
        if (node instanceof MappingNode mapping) {
            return new Section(mapping, path, line, known, problems);
        }
        problems.add(
                YamlTree.line(node),
                name(path) + " is " + describe(node) + "; write " + (path.isEmpty() ? "" : "below it ")
                        + "lines of the form key: value, such as " + known.get(0) + ": …");
        return null;
    }

    /** What messages call a mapping with this path. */
    private static String name(String path) {
        return path.isEmpty() ? "the manifest" : path;
    }

    /** The path of a key, as messages name it. */
    private String path(String key) {
        String shown = Problems.shown(key);
        return path.isEmpty() ? shown : path + "." + shown;
    }

    /** True when the key is there, whatever its value. */
    public boolean has(String key) {
        return values.containsKey(key);
    }

    /** Reports a key as missing unless it is there. */
    public boolean require(String key, String whatToDo) {
        if (!has(key)) {
            report(key, "is missing; " + whatToDo);
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
        return value == null ? line : YamlTree.line(value);
    }

    /** A section below this one. */
    public @Nullable Section section(String key, List<String> known) {
        Node value = values.get(key);
        return value == null ? null : of(value, path(key), keyLines.getOrDefault(key, line), known, problems);
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
            items.add(item(key, items.size(), node, known));
        }
        return items;
    }

    /**
     * What the mappings of a list stand for, read one after the other; null in the place of an item with which something is
     * wrong; null when the key is absent or holds no list.
     *
     * @param whatToDo what to write instead of something else
     * @param known keys of each item
     * @param read reads an item; what it returns is left out if it reports a problem
     */
    public <T> @Nullable List<@Nullable T> items(
            String key, String whatToDo, List<String> known, Function<Section, @Nullable T> read) {
        List<Node> nodes = list(key, whatToDo);
        if (nodes == null) {
            return null;
        }
        List<@Nullable T> items = new ArrayList<>();
        for (Node node : nodes) {
            int before = problems.count();
            Section section = item(key, items.size(), node, known);
            T item = section == null ? null : read.apply(section);
            items.add(problems.count() > before ? null : item);
        }
        return items;
    }

    private @Nullable Section item(String key, int index, Node node, List<String> known) {
        return of(node, path(key) + "[" + index + "]", YamlTree.line(node), known, problems);
    }

    /** The items of a list; null when the key is absent, or holds something else, which is reported. */
    private @Nullable List<Node> list(String key, String whatToDo) {
        Node value = values.get(key);
        if (value instanceof SequenceNode sequence) {
            return sequence.getValue();
        }
        if (value != null) {
            report(key, "is " + describe(value) + "; " + whatToDo);
        }
        return null;
    }

    /** True when the value is exactly this word, without quotes or with. */
    public boolean isWord(String key, String word) {
        return values.get(key) instanceof ScalarNode scalar && scalar.getValue().equals(word);
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

    /** A number above zero, in the given unit and within {@link Permitted}. */
    public @Nullable Double positive(String key, String unit, String alternative) {
        Double value = number(key, unit, alternative);
        if (value != null && !(value > 0)) {
            report(key, "is " + shown(key) + " " + unit + "; give a number above 0 " + unit + alternative);
            return null;
        }
        return value == null || permitted(key, value, Permitted.ofUnit(unit), alternative) ? value : null;
    }

    /** A number from zero to below a limit, in the given unit; one above zero within {@link Permitted}. */
    public @Nullable Double fromZero(String key, double limit, String unit) {
        return fromZero(key, limit, unit, Permitted.ofUnit(unit));
    }

    /** A number that is zero or within a range. */
    public @Nullable Double zeroOrWithin(String key, Permitted range) {
        return fromZero(key, Double.POSITIVE_INFINITY, range.unit(), range);
    }

    private @Nullable Double fromZero(String key, double limit, String unit, @Nullable Permitted range) {
        String limits =
                "from 0 " + unit + (limit < Double.MAX_VALUE ? " to below " + Numbers.exact(limit) + " " + unit : "");
        Double value = number(key, unit, "");
        if (value != null && !(value >= 0 && value < limit)) {
            report(key, "is " + shown(key) + " " + unit + "; give a number " + limits);
            return null;
        }
        return value == null || value == 0 || permitted(key, value, range, ", or 0") ? value : null;
    }

    private boolean permitted(String key, double value, @Nullable Permitted range, String alternative) {
        if (range == null || range.holds(value)) {
            return true;
        }
        report(key, "is " + shown(key) + " " + range.unit() + "; give a number from " + range.words() + alternative);
        return false;
    }

    /** A channel number from 1. */
    public @Nullable Integer channel(String key) {
        String value = scalar(key, "a channel number");
        if (value == null) {
            return null;
        }
        if (isQuoted(values.get(key)) || !value.matches("[1-9]\\d{0,5}")) {
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
        String wrong = isQuoted(values.get(key)) ? "" : complaint(value);
        if (wrong != null) {
            report(
                    key,
                    "is " + shown(key) + wrong + "; give a plain number in " + unit
                            + ", such as 1500 or 99.8, without unit or separators" + alternative);
            return null;
        }
        return Double.valueOf(value);
    }

    /** What is wrong with a text as a number, to follow the text; null when nothing is. */
    private static @Nullable String complaint(String text) {
        if (!isNumber(text)) {
            return "";
        }
        // Some readers of YAML take 0150 as octal: 104.
        if (LEADING_ZERO.matcher(text).matches()) {
            return ", which can be read in two ways with its leading zero";
        }
        return Double.isInfinite(Double.parseDouble(text)) ? ", too large" : null;
    }

    /** True for the form of a number, whatever its size. */
    private static boolean isNumber(String text) {
        return text.length() <= LONGEST_NUMBER && NUMBER.matcher(text).matches();
    }

    private @Nullable String scalar(String key, String wanted) {
        Node value = values.get(key);
        if (value == null) {
            return null;
        }
        if (!(value instanceof ScalarNode scalar)) {
            report(key, "is " + describe(value) + "; give " + wanted);
            return null;
        }
        if (isEmpty(scalar)) {
            report(key, "is empty; give " + wanted + ", or delete the key");
            return null;
        }
        return scalar.getValue();
    }

    /** A value as a message shows it: a number as written, other text in quotes, the rest in words. */
    public String shown(String key) {
        Node value = values.get(key);
        if (value == null) {
            return "absent";
        }
        return value instanceof ScalarNode scalar && !isQuoted(scalar) && isNumber(scalar.getValue())
                ? scalar.getValue()
                : describe(value);
    }

    /** Text in quotes, the rest in words. */
    private static String describe(Node node) {
        if (node instanceof ScalarNode scalar) {
            return isEmpty(scalar) ? "empty" : "'" + Problems.shown(scalar.getValue()) + "'";
        }
        return node instanceof SequenceNode ? "a list" : "a mapping";
    }

    /** True for blanks, and for one of the words that YAML reads as no value. */
    private static boolean isEmpty(ScalarNode scalar) {
        return scalar.getValue().isBlank() || (!isQuoted(scalar) && NULLS.contains(scalar.getValue()));
    }

    /** True for a value in quotes or a block of text. */
    private static boolean isQuoted(@Nullable Node node) {
        return node instanceof ScalarNode scalar && scalar.getScalarStyle() != ScalarStyle.PLAIN;
    }
}
