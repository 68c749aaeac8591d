package ohmprint.cli;

import java.io.PrintWriter;
import ohmprint.app.ConsistencyWords;
import ohmprint.app.library.EntryDetail;
import ohmprint.app.library.FindLike;
import ohmprint.curve.Finding;
import ohmprint.curve.Rounded;
import ohmprint.library.Entry;
import ohmprint.library.Likeness;
import ohmprint.library.Link;
import org.jspecify.annotations.Nullable;

/** One measurement of the library, or what resembles it, for a reader. */
final class LibraryDetail {
    private LibraryDetail() {}

    static void print(EntryDetail detail, PrintWriter out) {
        Entry e = detail.entry();
        line(out, "Identifier", e.id());
        line(out, "Microphone", e.label());
        line(out, "Maker, model, serial", LibraryTable.kind(e));
        line(out, "Transducer", e.transducer());
        line(out, "Measured", e.measuredAt() + " by " + e.operator());
        line(out, "Added", e.addedAt().toString());
        line(out, "|Z| at 1 kHz", LibraryTable.ohms(e));
        line(out, "Route", e.route());
        line(out, "Verdict", e.verdict());
        line(out, "Loads", e.loads());
        line(out, "Recording input", e.input());
        line(out, "Note", e.note());
        line(out, "Notes", detail.measurement().microphone().notes());
        for (Finding f : detail.measurement().findings()) {
            line(out, "Finding", f.code().word() + ": " + f.message());
        }
        for (String sentence : ConsistencyWords.of(detail.measurement().curve().consistency())) {
            line(out, "Consistency", sentence);
        }
        for (Link link : detail.links()) {
            line(out, "Link", words(link, e.id()));
        }
        out.println();
        ImpedanceTable.print(detail.measurement().curve(), out);
    }

    private static String words(Link link, String id) {
        boolean older = link.from().equals(id);
        String what = link.kind() == Link.Kind.SUPERSEDED
                ? (older ? "superseded by " + link.to() : "supersedes " + link.from())
                : (older ? "before a repair; after it " + link.to() : "after a repair; before it " + link.from());
        return what + (link.words().isEmpty() ? "" : ": " + link.words()) + " (" + link.by() + ", " + link.at() + ")";
    }

    private static void line(PrintWriter out, String name, @Nullable String value) {
        if (value != null && !value.isEmpty()) {
            out.println(OneLine.of(name + ": " + value));
        }
    }

    static void print(FindLike.Outcome found, PrintWriter out) {
        out.println(OneLine.of("Most like " + found.label() + " (" + found.name() + "):"));
        if (found.likes().isEmpty()) {
            out.println("Nothing in the library covers enough of the same range.");
            return;
        }
        TextTable table = new TextTable("id", "microphone", "maker, model, serial", "difference", "bands", "in words");
        for (Likeness l : found.likes()) {
            table.row(
                    l.entry().id(),
                    l.entry().label(),
                    LibraryTable.kind(l.entry()),
                    Rounded.digits(l.differencePercent(), 2) + " %",
                    Integer.toString(l.bands()),
                    l.words());
        }
        table.print(out);
        out.println("Difference: root mean square of |Z| over the third octaves that both cover.");
        if (found.parallelWithInput()) {
            out.println("The curve asked about is in parallel with its input, and so too low: state the input first.");
        }
    }
}
