package ohmprint.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import ohmprint.app.library.Comparison;
import ohmprint.app.library.FindLike;
import ohmprint.app.library.ReadLibrary.EntryDetail;
import ohmprint.app.library.Spread;
import ohmprint.app.measure.ConsistencyWords;
import ohmprint.impedance.Finding;
import ohmprint.library.Entry;
import ohmprint.library.EntryList;
import ohmprint.library.Link;
import ohmprint.library.Similarity;
import ohmprint.text.Numbers;
import ohmprint.text.Rounded;
import org.jspecify.annotations.Nullable;

/** What the library holds, for a reader at a terminal and for a program. */
final class LibraryReport {
    private static final int DAY = 10;
    private static final double OCTAVE = 1.9;

    private LibraryReport() {}

    /** Measurements, one a line. */
    static void print(EntryList list, Console console) {
        if (list.total() == 0) {
            console.line("Nothing found in " + list.library() + ".");
            return;
        }
        TextTable table = TextTable.ofTexts("id", "measured", "microphone", "maker, model, serial", "1 kHz", "verdict");
        for (Entry e : list.entries()) {
            table.row(
                    e.id(),
                    e.measuredAt().toString().substring(0, DAY),
                    e.label(),
                    kind(e),
                    ohms(e),
                    e.verdict() + (e.supersededBy() == null ? "" : ", superseded"));
        }
        table.print(console.out());
        int more = list.total() - list.entries().size();
        if (more > 0) {
            console.line("... and " + more + " more; --limit shows more of them, words and options fewer.");
        }
    }

    /** Maker, model and serial number, what there is of them. */
    private static String kind(Entry e) {
        String there = Stream.of(e.maker(), e.model(), e.serial())
                .filter(Objects::nonNull)
                .collect(Collectors.joining(", "));
        return there.isEmpty() ? Rounded.NONE : there;
    }

    /** |Z| at 1 kHz. */
    private static String ohms(Entry e) {
        return e.ohmAt1kHz() == null
                ? Rounded.NONE
                : Numbers.digits(e.ohmAt1kHz(), 3) + " Ω" + (e.parallelWithInput() ? " ∥ input" : "");
    }

    /** One measurement with its links and its curve. */
    static void print(EntryDetail detail, Console console) {
        Entry e = detail.entry();
        field(console, "Identifier", e.id());
        field(console, "Microphone", e.label());
        field(console, "Maker, model, serial", kind(e));
        field(console, "Transducer", e.transducer());
        field(console, "Measured", e.measuredAt() + " by " + e.operator());
        field(console, "Added", e.addedAt().toString());
        field(console, "|Z| at 1 kHz", ohms(e));
        field(console, "Route", e.route());
        field(console, "Verdict", e.verdict());
        field(console, "Loads", e.loads());
        field(console, "Recording input", e.input());
        field(console, "Note", e.note());
        field(console, "Notes", detail.measurement().microphone().notes());
        for (Finding f : detail.measurement().findings()) {
            field(console, "Finding", f.code().word() + ": " + f.message());
        }
        for (String sentence : ConsistencyWords.of(detail.measurement().curve().consistency())) {
            field(console, "Consistency", sentence);
        }
        for (Link link : detail.links()) {
            field(console, "Link", words(link, e.id()));
        }
        console.line();
        ImpedanceTable.print(detail.measurement().curve(), console.out());
    }

    private static String words(Link link, String id) {
        boolean older = link.from().equals(id);
        String what = link.kind() == Link.Kind.SUPERSEDED
                ? (older ? "superseded by " + link.to() : "supersedes " + link.from())
                : (older ? "before a repair; after it " + link.to() : "after a repair; before it " + link.from());
        return what + (link.words().isEmpty() ? "" : ": " + link.words()) + " (" + link.by() + ", " + link.at() + ")";
    }

    private static void field(Console console, String name, @Nullable String value) {
        if (value != null && !value.isEmpty()) {
            console.line(name + ": " + value);
        }
    }

    /** Measurements that resemble a curve, the likest first. */
    static void print(FindLike.Outcome found, Console console) {
        console.line("Most like " + found.label() + " (" + found.name() + "):");
        if (found.likes().isEmpty()) {
            console.line("Nothing in the library covers enough of the same range.");
            return;
        }
        TextTable table =
                TextTable.ofTexts("id", "microphone", "maker, model, serial", "difference", "bands", "in words");
        for (Similarity l : found.likes()) {
            table.row(
                    l.entry().id(),
                    l.entry().label(),
                    kind(l.entry()),
                    Numbers.digits(l.differencePercent(), 2) + " %",
                    Integer.toString(l.bands()),
                    l.words());
        }
        table.print(console.out());
        console.line("Difference: root mean square of |Z| over the third octaves that both cover.");
        if (found.parallelWithInput()) {
            console.line("The curve asked about is in parallel with its input, and so too low: state the input first.");
        }
    }

    /** Where curves differ from the first. */
    static void print(Comparison comparison, Console console) {
        String first = comparison.curves().get(0).measurement().microphone().label();
        for (Comparison.Difference d : comparison.differences()) {
            String bands = d.bands().size() + " bands";
            console.line(d.label() + " against " + first + ": "
                    + (d.count() == 0
                            ? "no significant difference in " + bands
                            : "differs in " + d.count() + " of " + bands));
            if (!d.ranges().isEmpty()) {
                print(d.ranges(), console.out());
            }
            if (d.different() != null) {
                console.line(d.different());
            }
            console.line(d.assumed());
        }
        console.line("Of the bands called different no more than 5 % are expected to be so by chance"
                + " (Benjamini and Hochberg). In brackets: 95 % interval.");
    }

    private static void print(List<Comparison.Difference.Range> ranges, PrintWriter out) {
        TextTable table = TextTable.ofTexts("range", "bands", "largest difference", "at");
        for (Comparison.Difference.Range r : ranges) {
            Comparison.Difference.Band b = r.largest();
            table.row(
                    Numbers.frequency(r.fromHz()) + (r.bands() == 1 ? "" : " to " + Numbers.frequency(r.toHz())),
                    Integer.toString(r.bands()),
                    signed(b.percent()) + " (" + signed(b.lowPercent()) + " to " + signed(b.highPercent()) + ")",
                    Numbers.frequency(b.hz()));
        }
        table.print(out);
    }

    private static String signed(double percent) {
        return (percent > 0 ? "+" : "") + TerminalText.percent(percent);
    }

    /** How the units of a model differ, in about a row an octave. */
    static void print(Spread spread, Console console) {
        console.line(spread.model() + ": " + spread.units().size() + " units");
        for (Spread.Unit unit : spread.units()) {
            console.line("  " + unit.id() + "  " + unit.label());
        }
        TextTable table = TextTable.ofTexts("frequency", "5 %", "median", "95 %", "units");
        double last = 0;
        for (Spread.Band b : spread.bands()) {
            if (b.hz() > OCTAVE * last) {
                table.row(
                        Numbers.frequency(b.hz()),
                        Numbers.digits(b.low(), 3) + " Ω",
                        Numbers.digits(b.median(), 3) + " Ω",
                        Numbers.digits(b.high(), 3) + " Ω",
                        Integer.toString(b.units()));
                last = b.hz();
            }
        }
        table.print(console.out());
        spread.notes().forEach(console::line);
    }
}
