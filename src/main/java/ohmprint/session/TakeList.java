package ohmprint.session;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import ohmprint.manifest.Problems;
import ohmprint.manifest.Section;
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
        String wanted = "write a list of takes, each with file and load_ohm";
        List<Node> nodes = manifest.require(KEY, wanted) ? manifest.list(KEY, wanted) : null;
        if (nodes == null) {
            return List.of();
        }
        List<TakeSection> takes = new ArrayList<>();
        for (int i = 0; i < nodes.size(); i++) {
            TakeSection take = TakeSection.read(nodes.get(i), i, problems);
            if (take != null) {
                takes.add(take);
            }
        }
        sameRecordingTwice(takes);
        if (finished && nodes.size() < 2) {
            manifest.report(
                    KEY,
                    "holds " + (nodes.isEmpty() ? "no take" : "one take")
                            + "; two or more with different loads are needed, record another");
        } else if (finished && takes.size() == nodes.size()) {
            oneLoadOnly(takes);
        }
        return takes;
    }

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
    private static void oneLoadOnly(List<TakeSection> takes) {
        long different =
                takes.stream().map(t -> t.take().load().ohm()).distinct().count();
        if (different < 2) {
            TakeSection second = takes.get(1);
            second.section()
                    .report(
                            "load_ohm",
                            "is " + second.take().load().label()
                                    + " like all other loads; a repeated load tells nothing of "
                                    + "the source impedance, record a take with another load");
        }
    }
}
