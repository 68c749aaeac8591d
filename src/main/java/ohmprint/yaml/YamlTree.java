package ohmprint.yaml;

import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.composer.Composer;
import org.yaml.snakeyaml.error.Mark;
import org.yaml.snakeyaml.error.MarkedYAMLException;
import org.yaml.snakeyaml.error.YAMLException;
import org.yaml.snakeyaml.events.AliasEvent;
import org.yaml.snakeyaml.events.CollectionEndEvent;
import org.yaml.snakeyaml.events.CollectionStartEvent;
import org.yaml.snakeyaml.events.Event;
import org.yaml.snakeyaml.events.ScalarEvent;
import org.yaml.snakeyaml.nodes.Node;
import org.yaml.snakeyaml.parser.ParserImpl;
import org.yaml.snakeyaml.reader.ReaderException;
import org.yaml.snakeyaml.reader.StreamReader;
import org.yaml.snakeyaml.resolver.Resolver;

/**
 * The tree of nodes of a YAML text, each with its place in the text. Nothing is turned into objects: tags are refused, and
 * so are aliases, with which a short text can stand for an endless one.
 */
final class YamlTree {
    private static final int DEEPEST = 20;

    private YamlTree() {}

    /** Parser and composer alone: the library's front door makes objects too, and starts the logging of Java for it. */
    private static ParserImpl parser(String text, LoaderOptions options) {
        return new ParserImpl(new StreamReader(text), options);
    }

    /**
     * The root node.
     *
     * @return null when the text holds nothing but comments
     * @throws ManifestException if the text is not one plain YAML document
     */
    static @Nullable Node compose(String text, Problems problems) throws ManifestException {
        LoaderOptions options = new LoaderOptions();
        options.setCodePointLimit(ManifestText.MOST_BYTES);
        options.setNestingDepthLimit(DEEPEST);
        try {
            int depth = 0;
            ParserImpl parser = parser(text, options);
            for (Event event; (event = parser.getEvent()) != null; ) {
                checkPlain(event, problems);
                depth += event instanceof CollectionStartEvent ? 1 : event instanceof CollectionEndEvent ? -1 : 0;
                if (depth > DEEPEST) {
                    problems.add(line(event.getStartMark()), "is nested too deeply; write it with fewer levels");
                    problems.throwIfAny();
                }
            }
            problems.throwIfAny();
            return new Composer(parser(text, options), new Resolver(), options).getSingleNode();
        } catch (MarkedYAMLException e) {
            Mark mark = e.getProblemMark() != null ? e.getProblemMark() : e.getContextMark();
            problems.add(mark == null ? 0 : line(mark), notYaml(e.getProblem()));
        } catch (ReaderException e) {
            int index = text.offsetByCodePoints(0, Math.min(e.getPosition(), text.codePointCount(0, text.length())));
            problems.add(
                    ManifestText.lineAt(text, index),
                    String.format("holds the control character U+%04X; remove it", e.getCodePoint()));
        } catch (YAMLException e) {
            problems.add(0, notYaml(e.getMessage()));
        }
        throw problems.exception();
    }

    private static void checkPlain(Event event, Problems problems) {
        int line = line(event.getStartMark());
        if (event instanceof AliasEvent alias) {
            problems.add(
                    line,
                    "uses the alias *" + Problems.shown(alias.getAnchor())
                            + "; aliases are not read, write the value out");
        }
        String tag = event instanceof ScalarEvent scalar
                ? scalar.getTag()
                : event instanceof CollectionStartEvent collection ? collection.getTag() : null;
        if (tag != null) {
            problems.add(line, "uses the tag " + Problems.shown(tag) + "; tags are not read, write the value alone");
        }
    }

    private static String notYaml(@Nullable String problem) {
        return "is not valid YAML (" + Problems.shown(problem == null ? "no reason given" : problem)
                + "); check indentation, colons and quotes here and on the line before";
    }

    /** Line of a node. */
    static int line(Node node) {
        return line(node.getStartMark());
    }

    /** Lines are counted from 1 for users, from 0 by the parser. */
    private static int line(Mark mark) {
        return mark.getLine() + 1;
    }
}
