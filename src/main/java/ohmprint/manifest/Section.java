package ohmprint.manifest;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import ohmprint.curve.Permitted;
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
    private final Entries entries;
    private final SingleValues single;
    private final Problems problems;

    private Section(Entries entries, Problems problems) {
        this.entries = entries;
        this.single = new SingleValues(entries);
        this.problems = problems;
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
                    problems.add(Entries.line(root), foreign.get(key.getValue()));
                    throw problems.exception();
                }
            }
        }
        Section manifest = of(root, "", Entries.line(root), known, problems);
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
            return new Section(new Entries(mapping, path, line, known, problems), problems);
        }
        problems.add(
                Entries.line(node),
                Entries.name(path) + " is " + YamlValue.describe(node) + "; write "
                        + (path.isEmpty() ? "" : "below it ") + "lines of the form key: value, such as " + known.get(0)
                        + ": …");
        return null;
    }

    /** True when the key is there, whatever its value. */
    public boolean has(String key) {
        return entries.value(key) != null;
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
        entries.report(key, message);
    }

    /** Line of a value, or of the section when the key is absent. */
    public int lineOf(String key) {
        return entries.line(key);
    }

    /** A section below this one. */
    public @Nullable Section section(String key, List<String> known) {
        Node value = entries.value(key);
        return value == null ? null : of(value, entries.path(key), entries.keyLine(key), known, problems);
    }

    /** The items of a list; null when the key is absent, or holds something else, which is reported. */
    public @Nullable List<Node> list(String key, String whatToDo) {
        Node value = entries.value(key);
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
            items.add(of(node, entries.path(key) + "[" + items.size() + "]", Entries.line(node), known, problems));
        }
        return items;
    }

    /** True when the value is exactly this word, without quotes or with. */
    public boolean isWord(String key, String word) {
        return entries.value(key) instanceof ScalarNode scalar
                && scalar.getValue().equals(word);
    }

    /** A value as a message shows it. */
    public String shown(String key) {
        return entries.shown(key);
    }

    /** A text of one line or more. */
    public @Nullable String text(String key) {
        return single.text(key);
    }

    /** One of a few words. */
    public @Nullable String word(String key, List<String> words) {
        return single.word(key, words);
    }

    /** Yes or no. */
    public @Nullable Boolean flag(String key) {
        String value = word(key, List.of("true", "false"));
        return value == null ? null : Boolean.valueOf(value);
    }

    /** A number above zero, in the given unit and within {@link Permitted}. */
    public @Nullable Double positive(String key, String unit, String alternative) {
        return single.positive(key, unit, alternative);
    }

    /** A number from zero to below a limit, in the given unit; one above zero within {@link Permitted}. */
    public @Nullable Double fromZero(String key, double limit, String unit) {
        return single.fromZero(key, limit, unit);
    }

    /** A number that is zero or within a range. */
    public @Nullable Double zeroOrWithin(String key, Permitted range) {
        return single.fromZero(key, Double.POSITIVE_INFINITY, range.unit(), range);
    }

    /** A channel number from 1. */
    public @Nullable Integer channel(String key) {
        return single.channel(key);
    }

    /** Any number, in the given unit. */
    public @Nullable Double number(String key, String unit, String alternative) {
        return single.number(key, unit, alternative);
    }
}
