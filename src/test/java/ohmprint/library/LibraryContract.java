package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import ohmprint.curve.Measurement;
import ohmprint.exchange.CurveJson;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a library does, of whichever kind it is. */
abstract class LibraryContract {
    static final DocumentReader READER = CurveJson::read;

    @TempDir
    Path folder;

    private CurveLibrary library;

    /** A place where there is no library yet. */
    abstract LibraryLocation nowhere() throws Exception;

    /** A connection around the program, to the library that {@link #nowhere} named last. */
    abstract Connection raw() throws SQLException;

    @BeforeEach
    void open() throws Exception {
        library = CurveLibrary.openOrMake(nowhere());
    }

    @AfterEach
    void close() {
        library.close();
    }

    @Test
    void aMeasurementComesBackByteForByteWithWhatListsShow() throws Exception {
        Measurement m = InventedUnits.unit(4);
        NewMeasurement added = new NewMeasurement(CurveJson.write(m), m, "Ada Quill", "after the move, Ω and µ");

        Added result = library.add(added, false);

        assertThat(result.fresh()).isTrue();
        Entry entry = library.entry(result.id());
        assertThat(library.document(entry)).isEqualTo(added.document());
        assertThat(entry.sha256()).isEqualTo(added.sha256()).startsWith(entry.id());
        assertThat(entry.label()).isEqualTo("Dunlin unit 4");
        assertThat(entry.maker()).isEqualTo("Brook & Fell");
        assertThat(entry.model()).isEqualTo("Dunlin");
        assertThat(entry.serial()).isEqualTo("KL-4");
        assertThat(entry.measuredAt()).isEqualTo(m.provenance().computedAt());
        assertThat(entry.operator()).isEqualTo("Ada Quill");
        assertThat(entry.note()).isEqualTo("after the move, Ω and µ");
        assertThat(entry.loads()).isEqualTo("220 Ω, open");
        assertThat(entry.input()).isEqualTo(m.provenance().input());
        assertThat(entry.ohmAt1kHz()).isCloseTo(m.curve().values().get(16).magnitudeOhm(), within(1e-9));
        assertThat(entry.supersededBy()).isNull();
    }

    @Test
    void addingTheSameAgainChangesNothingAndTellsTheIdentifier() throws Exception {
        Added first = library.add(InventedUnits.added(1), false);
        Added second = library.add(InventedUnits.added(1), false);

        assertThat(second).isEqualTo(new Added(first.id(), false));
        assertThat(library.page(Filter.EVERYTHING, 10).total()).isEqualTo(1);
    }

    @Test
    void theStartOfAnIdentifierIsEnoughWhereItIsTheOnlyOne() throws Exception {
        String id = library.add(InventedUnits.added(1), false).id();

        assertThat(library.entry(id.substring(0, 4)).id()).isEqualTo(id);
        assertThat(library.entry(id.toUpperCase(Locale.ROOT)).id()).isEqualTo(id);
        assertThatThrownBy(() -> library.entry(id.charAt(0) == '0' ? "1111" : "0000"))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("holds no measurement");
        assertThatThrownBy(() -> library.entry("%' OR 1=1"))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("is no identifier");
    }

    @Test
    void listsAreNewestFirstAndTellHowManyThereAre() throws Exception {
        for (int n = 0; n < 7; n++) {
            library.add(InventedUnits.added(n), false);
        }

        Page page = library.page(Filter.CURRENT, 3);

        assertThat(page.total()).isEqualTo(7);
        assertThat(page.entries()).extracting(Entry::serial).containsExactly("KL-6", "KL-5", "KL-4");
        assertThat(library.ids(Filter.CURRENT))
                .hasSize(7)
                .startsWith(page.entries().get(0).id());
    }

    @Test
    void wordsAndFiltersFindWhatTheyName() throws Exception {
        for (int n = 0; n < 14; n++) {
            library.add(InventedUnits.added(n), false);
        }
        Measurement odd = InventedUnits.unit(20);
        library.add(new NewMeasurement(CurveJson.write(odd), odd, "Őrs", "100% sure_thing, ÄRGER"), false);

        assertThat(found("heron")).containsExactly("KL-8", "KL-1");
        assertThat(found("HERON", "unit 8")).containsExactly("KL-8");
        assertThat(found("ärger")).containsExactly("KL-20");
        assertThat(found("100%")).containsExactly("KL-20");
        assertThat(found("0% s")).containsExactly("KL-20");
        assertThat(found("sure_t")).containsExactly("KL-20");
        assertThat(found("sureXt")).isEmpty();
        assertThat(found("'; DROP TABLE measurement; --")).isEmpty();
        Filter model = Filter.ofModel("brook & fell", "heron");
        assertThat(library.page(model, 9).entries()).extracting(Entry::serial).containsExactly("KL-8", "KL-1");
        Filter time = new Filter(
                List.of(),
                null,
                null,
                null,
                "ribbon",
                null,
                "stimulus",
                "usable",
                Instant.parse("2026-02-01T08:04:00Z"),
                Instant.parse("2026-02-01T08:07:00Z"),
                false);
        assertThat(library.page(time, 9).entries()).extracting(Entry::serial).containsExactly("KL-6", "KL-4");
    }

    private List<String> found(String... words) throws LibraryException {
        Page page = library.page(Filter.ofWords(List.of(words)), 50);
        assertThat(page.total()).isEqualTo(page.entries().size());
        return page.entries().stream().map(Entry::serial).toList();
    }

    @Test
    void whatIsSupersededStaysButNoLongerCounts() throws Exception {
        String older = library.add(InventedUnits.added(1), false).id();
        Link link = new Link(
                Link.Kind.SUPERSEDED, older, InventedUnits.added(2).id(), "load was wrong", "Ada Quill", Instant.now());

        String newer = library.add(InventedUnits.added(2), false, List.of(link)).id();

        assertThat(library.entry(older).supersededBy()).isEqualTo(newer);
        assertThat(library.page(Filter.CURRENT, 9).entries())
                .extracting(Entry::id)
                .containsExactly(newer);
        assertThat(library.page(Filter.EVERYTHING, 9).total()).isEqualTo(2);
        assertThat(library.link(link)).isFalse();
        assertThatThrownBy(() ->
                        library.link(new Link(Link.Kind.SUPERSEDED, newer, older, "no", "Ada Quill", Instant.now())))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("is itself superseded");
        String third = library.add(InventedUnits.added(3), false).id();
        assertThatThrownBy(() ->
                        library.link(new Link(Link.Kind.SUPERSEDED, older, third, "no", "Ada Quill", Instant.now())))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("superseded by " + newer + " already");
    }

    @Test
    void aRepairLinksBeforeAndAfter() throws Exception {
        String before = library.add(InventedUnits.added(1), false).id();
        String after = library.add(InventedUnits.added(2), false).id();
        Link link = new Link(
                Link.Kind.REPAIRED, before, after, "new ribbon", "Ada Quill", Instant.parse("2026-03-01T10:00:00Z"));

        assertThat(library.link(link)).isTrue();

        assertThat(library.links(library.entry(after))).containsExactly(link);
        assertThat(library.links()).containsExactly(link);
        assertThat(library.page(Filter.CURRENT, 9).total()).isEqualTo(2);
    }

    @Test
    void anAddWithAnImpossibleLinkAddsNothing() throws Exception {
        NewMeasurement second = InventedUnits.added(2);
        Link nowhere = new Link(Link.Kind.SUPERSEDED, "0123456789ab", second.id(), "x", "Ada Quill", Instant.now());

        assertThatThrownBy(() -> library.add(second, false, List.of(nowhere))).isInstanceOf(LibraryException.class);

        assertThat(library.page(Filter.EVERYTHING, 9).total()).isZero();
    }

    @Test
    void aRemovalLeavesARecordAndTheSameIsNotAddedByAccident() throws Exception {
        String id = library.add(InventedUnits.added(1), false).id();
        library.add(InventedUnits.added(2), false);

        library.remove(library.entry(id), "wrong microphone", "Ada Quill");

        assertThat(library.page(Filter.EVERYTHING, 9).total()).isEqualTo(1);
        assertThat(library.removals()).singleElement().satisfies(r -> {
            assertThat(r.id()).isEqualTo(id);
            assertThat(r.label()).isEqualTo("Heron unit 1");
            assertThat(r.reason()).isEqualTo("wrong microphone");
        });
        assertThatThrownBy(() -> library.add(InventedUnits.added(1), false))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("wrong microphone")
                .hasMessageContaining("--again");
        assertThat(library.add(InventedUnits.added(1), true).fresh()).isTrue();
        library.remove(library.entry(id), "once more", "Ada Quill");
        assertThat(library.removals()).hasSize(2);
        assertThat(library.verify(READER).problems()).isEmpty();
    }

    @Test
    void theDatabaseItselfRefusesToChangeWhatIsKept() throws Exception {
        String id = library.add(InventedUnits.added(1), false).id();
        library.add(InventedUnits.added(2), false);
        library.keepSpecification("Heron", "version: 1\n", "Ada Quill");
        library.remove(library.entry(id), "wrong microphone", "Ada Quill");

        try (Connection connection = raw();
                Statement statement = connection.createStatement()) {
            for (String sql : List.of(
                    "UPDATE measurement SET label = 'x'",
                    "UPDATE curve_document SET gzip = NULL",
                    "UPDATE take SET sha256 = 'x'",
                    "UPDATE microphone SET maker = 'x'",
                    "UPDATE specification SET yaml = 'x'",
                    "UPDATE removal SET reason = 'x'",
                    "DELETE FROM removal",
                    "DELETE FROM measurement",
                    "DELETE FROM curve_document",
                    "DELETE FROM curve_shape",
                    "DELETE FROM take")) {
                assertThatThrownBy(() -> statement.execute(sql))
                        .as(sql)
                        .isInstanceOf(SQLException.class)
                        .hasMessageMatching("(?s).*(never changed|is kept|with a record|as a whole).*");
            }
        }
        assertThat(library.verify(READER)).isEqualTo(new LibraryHealth(1, List.of()));
    }

    @Test
    void specificationsKeepTheirRevisions() throws Exception {
        assertThat(library.keepSpecification("Heron", "version: 1\n", "Ada Quill")
                        .revision())
                .isEqualTo(1);
        assertThat(library.keepSpecification("Heron", "version: 1\n", "Ben").revision())
                .isEqualTo(1);
        assertThat(library.keepSpecification("Heron", "version: 1\nnotes: x\n", "Ben")
                        .revision())
                .isEqualTo(2);
        library.keepSpecification("Wren", "version: 1\n", "Ben");

        assertThat(library.specification("Heron"))
                .hasValueSatisfying(s -> assertThat(s.yaml()).contains("notes"));
        assertThat(library.specification("none")).isEmpty();
        assertThat(library.specifications()).extracting(KeptSpecification::name).containsExactly("Heron", "Wren");
    }

    @Test
    void theLikestAreOtherUnitsOfTheSameModel() throws Exception {
        for (int n = 0; n < 42; n++) {
            library.add(InventedUnits.added(n), false);
        }
        Measurement unknown = InventedUnits.unit(49, 12, 0.01);

        List<Likeness> likest = library.likest(CurveShape.of(unknown.curve()), 5, "");

        assertThat(likest).hasSize(5).allSatisfy(l -> {
            assertThat(l.entry().model()).isEqualTo(unknown.microphone().model());
            assertThat(l.bands()).isGreaterThan(28);
        });
        assertThat(likest).extracting(Likeness::distance).isSorted();
        String best = likest.get(0).entry().id();
        assertThat(library.likest(CurveShape.of(unknown.curve()), 5, best))
                .extracting(l -> l.entry().id())
                .doesNotContain(best);
    }

    @Test
    void whatAnotherLibraryHandsOutIsTakenInOnceAndConflictsAreTold() throws Exception {
        List<NewMeasurement> all = List.of(InventedUnits.added(1), InventedUnits.added(2), InventedUnits.added(3));
        Link repaired = new Link(
                Link.Kind.REPAIRED,
                all.get(0).id(),
                all.get(1).id(),
                "coil",
                "Ben",
                Instant.parse("2026-03-01T10:00:00Z"));
        Link dangling = new Link(
                Link.Kind.REPAIRED, all.get(0).id(), "0123456789ab", "", "Ben", Instant.parse("2026-03-01T10:00:00Z"));
        KeptSpecification spec = new KeptSpecification(
                "Heron", 4, Digest.sha256("a: 1\n"), "a: 1\n", "Ben", Instant.parse("2026-03-01T10:00:00Z"));
        Incoming incoming = new Incoming(all, List.of(repaired, dangling), List.of(spec));

        TakenIn first = library.takeIn(incoming);
        TakenIn second = library.takeIn(incoming);

        assertThat(first.added())
                .containsExactlyElementsOf(all.stream().map(NewMeasurement::id).toList());
        assertThat(first.links()).isEqualTo(1);
        assertThat(first.specifications()).containsExactly("Heron");
        assertThat(first.conflicts()).singleElement().asString().contains("0123456789ab is not in this library");
        assertThat(second.added()).isEmpty();
        assertThat(second.known()).isEqualTo(3);
        assertThat(second.links()).isZero();
        library.remove(library.entry(all.get(2).id()), "nonsense", "Ada Quill");
        library.keepSpecification("Heron", "b: 1\n", "Ada Quill");
        assertThat(library.takeIn(incoming).conflicts())
                .anySatisfy(c -> assertThat(c).contains("was removed").contains("nonsense"))
                .anySatisfy(c -> assertThat(c).contains("its text differs here"));
    }

    @Test
    void whatCannotBeReadToTheEndIsNotTakenInAtAll() throws Exception {
        Iterable<NewMeasurement> torn = () -> new Iterator<>() {
            private int n;

            @Override
            public boolean hasNext() {
                return true;
            }

            @Override
            public NewMeasurement next() {
                if (n == 2) {
                    throw new IllegalStateException("torn");
                }
                return InventedUnits.added(n++);
            }
        };

        assertThatThrownBy(() -> library.takeIn(new Incoming(torn, List.of(), List.of())))
                .hasMessageContaining("torn");

        assertThat(library.page(Filter.EVERYTHING, 9).total()).isZero();
    }

    @Test
    void aBackupIsALibraryFileThatHoldsEverything() throws Exception {
        String id = library.add(InventedUnits.added(1), false).id();
        String second = library.add(InventedUnits.added(2), false).id();
        library.keepSpecification("Heron", "version: 1\n", "Ada Quill");
        library.link(new Link(Link.Kind.REPAIRED, id, second, "coil", "Ben", Instant.parse("2026-03-01T10:00:00Z")));
        Path file = folder.resolve("backup.db");

        library.backUp(file);

        try (CurveLibrary copy = CurveLibrary.open(new LibraryFile(file))) {
            assertThat(copy.page(Filter.EVERYTHING, 9)).isEqualTo(library.page(Filter.EVERYTHING, 9));
            assertThat(copy.links()).isEqualTo(library.links());
            assertThat(copy.specifications()).isEqualTo(library.specifications());
            assertThat(copy.verify(READER)).isEqualTo(new LibraryHealth(2, List.of()));
        }
        assertThatThrownBy(() -> library.backUp(file))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("is there already");
        try (var left = Files.list(folder)) {
            assertThat(left.map(p -> p.getFileName().toString()).filter(n -> n.startsWith(".")))
                    .isEmpty();
        }
    }

    @Test
    void manyWhoAddAtOnceLoseNothingAndAddNothingTwice() throws Exception {
        ExecutorService workers = Executors.newFixedThreadPool(4);
        List<Callable<List<Added>>> tasks = new ArrayList<>();
        for (int w = 0; w < 4; w++) {
            int worker = w;
            tasks.add(() -> {
                List<Added> results = new ArrayList<>();
                try (CurveLibrary own = CurveLibrary.openOrMake(library.location())) {
                    for (int n = 0; n < 25; n++) {
                        // a third of the numbers is added by all of them
                        results.add(own.add(InventedUnits.added(n % 3 == 0 ? n : 100 * worker + n), false));
                    }
                }
                return results;
            });
        }
        List<Added> all = new ArrayList<>();
        for (Future<List<Added>> done : workers.invokeAll(tasks)) {
            all.addAll(done.get());
        }
        workers.shutdown();

        long distinct = all.stream().map(Added::id).distinct().count();
        assertThat(all.stream().filter(Added::fresh)).hasSize((int) distinct);
        assertThat(library.page(Filter.EVERYTHING, 1).total()).isEqualTo((int) distinct);
        assertThat(library.verify(READER).problems()).isEmpty();
    }
}
