package ohmprint.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import ohmprint.curve.Rounded;
import ohmprint.library.Entry;
import ohmprint.library.EntryList;
import org.jspecify.annotations.Nullable;

/** Measurements of the library for a reader. */
final class LibraryTable {
    private static final int DAY = 10;

    private LibraryTable() {}

    static void print(EntryList list, PrintWriter out) {
        if (list.total() == 0) {
            out.println("Nothing found in " + list.library() + ".");
            return;
        }
        TextTable table = new TextTable("id", "measured", "microphone", "maker, model, serial", "1 kHz", "verdict");
        for (Entry e : list.entries()) {
            table.row(
                    e.id(),
                    e.measuredAt().toString().substring(0, DAY),
                    e.label(),
                    kind(e),
                    ohms(e),
                    e.verdict() + (e.supersededBy() == null ? "" : ", superseded"));
        }
        table.print(out);
        int more = list.total() - list.entries().size();
        if (more > 0) {
            out.println("... and " + more + " more; --limit shows more of them, words and options fewer.");
        }
    }

    /** Maker, model and serial number, what there is of them. */
    static String kind(Entry e) {
        return named(e.maker(), e.model(), e.serial());
    }

    /** |Z| at 1 kHz. */
    static String ohms(Entry e) {
        return e.ohmAt1kHz() == null
                ? Rounded.NONE
                : Rounded.digits(e.ohmAt1kHz(), 3) + " Ω" + (e.parallelWithInput() ? " ∥ input" : "");
    }

    static String named(@Nullable String... parts) {
        List<String> there = Stream.of(parts)
                .filter(Objects::nonNull)
                .map(Objects::requireNonNull)
                .collect(Collectors.toList());
        return there.isEmpty() ? Rounded.NONE : String.join(", ", there);
    }
}
