package ohmprint.session;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import ohmprint.manifest.Problems;
import ohmprint.manifest.Section;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.nodes.Node;

/** The {@code takes} of a manifest, and what they must have between them. */
final class TakeList {
    private static final String KEY = "takes";

    private TakeList() {}

    /**
     * The takes that nothing is wrong with.
     *
     * @param finished whether there must be enough of them for a measurement
     */
    static List<TakeSection> read(Section manifest, boolean finished, Problems problems) {
        return read(manifest, finished, problems, TakeSection::read, LOADS);
    }

    /** Takes through resistors in series with an input, enough of them for a measurement. */
    static List<TakeSection> ofSeries(Section manifest, Problems problems) {
        return read(manifest, true, problems, SeriesTakeSection::read, SERIES);
    }

    /** Reads one take; null when something is wrong with it. */
    private interface Reading {
        @Nullable
        TakeSection read(Node node, int index, Problems problems);
    }

    private static List<TakeSection> read(
            Section manifest, boolean finished, Problems problems, Reading reading, Words words) {
        String wanted = "write a list of takes, each with file and " + words.key;
        List<Node> nodes = manifest.require(KEY, wanted) ? manifest.list(KEY, wanted) : null;
        if (nodes == null) {
            return List.of();
        }
        List<TakeSection> takes = new ArrayList<>();
        for (int i = 0; i < nodes.size(); i++) {
            TakeSection take = reading.read(nodes.get(i), i, problems);
            if (take != null) {
                takes.add(take);
            }
        }
        sameRecordingTwice(takes);
        if (finished && nodes.size() < 2) {
            manifest.report(
                    KEY,
                    "holds " + (nodes.isEmpty() ? "no take" : "one take") + "; two or more with different "
                            + words.resistors + " are needed, record another");
        } else if (finished && takes.size() == nodes.size()) {
            oneLoadOnly(takes, words);
        }
        return takes;
    }

    /**
     * What the takes differ in.
     *
     * @param key key of a take
     * @param resistor one of them
     * @param resistors several
     * @param sought what they are there for
     */
    private record Words(String key, String resistor, String resistors, String sought) {}

    private static final Words LOADS = new Words("load_ohm", "load", "loads", "the source impedance");
    private static final Words SERIES =
            new Words("series_ohm", "series resistor", "series resistors", "the input impedance");

    private static void sameRecordingTwice(List<TakeSection> takes) {
        Map<String, Integer> seen = new HashMap<>();
        for (TakeSection t : takes) {
            String recording = t.take().file() + "\n" + t.take().channel();
            int line = t.section().lineOf("file");
            Integer first = seen.putIfAbsent(recording, line);
            if (first != null) {
                t.section()
                        .report(
                                "file",
                                "is " + Problems.shown(t.take().file()) + ", channel "
                                        + t.take().channel() + ", which is used already on line " + first
                                        + "; name another recording");
            }
        }
    }

    /** Loads count as different by their value alone: two resistors of one value see the source alike. */
    private static void oneLoadOnly(List<TakeSection> takes, Words words) {
        long different =
                takes.stream().map(t -> t.take().load().ohm()).distinct().count();
        if (different < 2) {
            TakeSection second = takes.get(1);
            String given = second.section().shown(words.key);
            second.section()
                    .report(
                            words.key,
                            "is " + inOhms(given) + " like all other "
                                    + words.resistors + "; a repeated " + words.resistor + " tells nothing of "
                                    + words.sought + ", record a take with another " + words.resistor);
        }
    }

    /** A resistance as given, without a decimal part that says nothing; a word stays a word. */
    private static String inOhms(String given) {
        return given.matches("[0-9.]+") ? given.replaceFirst("\\.0*$", "") + " Ω" : given.replace("'", "");
    }
}
