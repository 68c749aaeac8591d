package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * How long a list, a search by words and one by likeness take in a large library, within the process. {@code
 * -Dohmprint.library.entries} says how large; {@code scripts/benchmark --library} takes 100 000 and holds the times to what
 * is promised: a list or words 100 ms, likeness 500 ms. Results go to {@code target/library-speed.txt}.
 */
@Tag("slow")
class LibrarySpeedTest {
    private static final int ENTRIES = Integer.getInteger("ohmprint.library.entries", 300);
    private static final int FULL = 100_000;
    private static final int RUNS = 9;

    @TempDir
    Path folder;

    @Test
    void aLargeFileAnswersWhileOneWaits() throws Exception {
        measure("SQLite", new LibraryFile(folder.resolve("large.db")));
    }

    @Test
    void aLargeDatabaseAnswersWhileOneWaits() throws Exception {
        measure("PostgreSQL", LibraryLocation.of(TestServer.newDatabase(), TestServer.owner()));
    }

    private void measure(String kind, LibraryLocation location) throws Exception {
        StringBuilder report = new StringBuilder(kind + ", " + ENTRIES + " measurements\n");
        try (CurveLibrary library = CurveLibrary.openOrMake(location)) {
            long begun = System.nanoTime();
            Iterable<NewMeasurement> all = () -> new Iterator<>() {
                private int n;

                @Override
                public boolean hasNext() {
                    return n < ENTRIES;
                }

                @Override
                public NewMeasurement next() {
                    return InventedUnits.added(n++);
                }
            };
            assertThat(library.takeIn(all, List.of(), List.of()).added()).hasSize(ENTRIES);
            report.append(String.format(Locale.ROOT, "  filled in %.0f s%n", (System.nanoTime() - begun) / 1e9));
        }
        CurveSignature unknown =
                CurveSignature.of(InventedUnits.unit(ENTRIES + 1).curve());
        Filter words = Filter.ofWords(List.of("heron", "unit 7"));
        Filter rare = Filter.ofWords(List.of("kl-" + ENTRIES / 2));
        Filter none = Filter.ofWords(List.of("no such words"));
        Filter model = Filter.ofModel("Brook & Fell", "Heron");
        try (CurveLibrary library = CurveLibrary.open(location)) {
            double list = time(report, "list", 100, () -> library.page(Filter.CURRENT, 100));
            double find = time(report, "find two words", 100, () -> library.page(words, 100));
            double one = time(report, "find the one", 100, () -> library.page(rare, 100));
            double nothing = time(report, "find nothing", 100, () -> library.page(none, 100));
            double byModel = time(report, "list of a model", 100, () -> library.page(model, 100));
            double like = time(report, "find --like", 500, () -> library.likest(unknown, 10, ""));
            time(report, "all entries", 0, () -> library.page(Filter.CURRENT, ENTRIES));
            assertThat(library.page(Filter.CURRENT, 1).total()).isEqualTo(ENTRIES);
            if (ENTRIES >= FULL) {
                assertThat(Math.max(Math.max(list, find), Math.max(one, Math.max(nothing, byModel))))
                        .isLessThan(100);
                assertThat(like).isLessThan(500);
            }
        } finally {
            Files.writeString(
                    Path.of("target/library-speed.txt"), report, StandardOpenOption.CREATE, StandardOpenOption.APPEND);
        }
    }

    private interface Question {
        Object ask() throws Exception;
    }

    /** Median of some runs in milliseconds, the first not counted. */
    private static double time(StringBuilder report, String what, int promised, Question question) throws Exception {
        question.ask();
        double[] ms = new double[ENTRIES >= FULL ? RUNS : 3];
        for (int i : IntStream.range(0, ms.length).toArray()) {
            long begun = System.nanoTime();
            question.ask();
            ms[i] = (System.nanoTime() - begun) / 1e6;
        }
        Arrays.sort(ms);
        report.append(String.format(
                Locale.ROOT,
                "  %-18s %8.1f ms (at most %.1f)%s%n",
                what,
                ms[ms.length / 2],
                ms[ms.length - 1],
                promised == 0 ? "" : ", promised " + promised + " ms"));
        return ms[ms.length / 2];
    }
}
