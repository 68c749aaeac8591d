package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Measurement;
import ohmprint.library.NewMeasurement.Added;
import org.junit.jupiter.api.Test;

/** What is put into a library is kept as it was, by everybody who adds at once, and goes only with a record. */
interface KeepingContract extends OpenLibrary {
    @Test
    default void aMeasurementComesBackByteForByteWithWhatListsShow() throws Exception {
        Measurement m = InventedUnits.unit(4);
        NewMeasurement added = new NewMeasurement(CurveJson.write(m), m, "Ada Quill", "after the move, Ω and µ");

        Added result = library().add(added, false);

        assertThat(result.fresh()).isTrue();
        Entry entry = library().entry(result.id());
        assertThat(library().document(entry)).isEqualTo(added.document());
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
    default void addingTheSameAgainChangesNothingAndTellsTheIdentifier() throws Exception {
        Added first = library().add(InventedUnits.added(1), false);
        Added second = library().add(InventedUnits.added(1), false);

        assertThat(second).isEqualTo(new Added(first.id(), false));
        assertThat(library().page(Filter.EVERYTHING, 10).total()).isEqualTo(1);
    }

    @Test
    default void aRemovalLeavesARecordAndTheSameIsNotAddedByAccident() throws Exception {
        String id = library().add(InventedUnits.added(1), false).id();
        library().add(InventedUnits.added(2), false);

        library().remove(library().entry(id), "wrong microphone", "Ada Quill");

        assertThat(library().page(Filter.EVERYTHING, 9).total()).isEqualTo(1);
        assertThat(library().removals()).singleElement().satisfies(r -> {
            assertThat(r.id()).isEqualTo(id);
            assertThat(r.label()).isEqualTo("Heron unit 1");
            assertThat(r.reason()).isEqualTo("wrong microphone");
        });
        assertThatThrownBy(() -> library().add(InventedUnits.added(1), false))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("wrong microphone")
                .hasMessageContaining("--again");
        assertThat(library().add(InventedUnits.added(1), true).fresh()).isTrue();
        library().remove(library().entry(id), "once more", "Ada Quill");
        assertThat(library().removals()).hasSize(2);
        assertThat(library().verify(READER).problems()).isEmpty();
    }

    @Test
    default void theDatabaseItselfRefusesToChangeWhatIsKept() throws Exception {
        String id = library().add(InventedUnits.added(1), false).id();
        library().add(InventedUnits.added(2), false);
        library().keepSpecification("Heron", "version: 1\n", "Ada Quill");
        library().remove(library().entry(id), "wrong microphone", "Ada Quill");

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
        assertThat(library().verify(READER))
                .isEqualTo(new LibraryHealth(library().location().toString(), 1, List.of()));
    }

    @Test
    default void specificationsKeepTheirRevisions() throws Exception {
        assertThat(library()
                        .keepSpecification("Heron", "version: 1\n", "Ada Quill")
                        .revision())
                .isEqualTo(1);
        assertThat(library().keepSpecification("Heron", "version: 1\n", "Ben").revision())
                .isEqualTo(1);
        assertThat(library()
                        .keepSpecification("Heron", "version: 1\nnotes: x\n", "Ben")
                        .revision())
                .isEqualTo(2);
        library().keepSpecification("Wren", "version: 1\n", "Ben");

        assertThat(library().specification("Heron"))
                .hasValueSatisfying(s -> assertThat(s.yaml()).contains("notes"));
        assertThat(library().specification("none")).isEmpty();
        assertThat(library().specifications())
                .extracting(KeptSpecification::name)
                .containsExactly("Heron", "Wren");
    }

    @Test
    default void manyWhoAddAtOnceLoseNothingAndAddNothingTwice() throws Exception {
        ExecutorService workers = Executors.newFixedThreadPool(4);
        List<Callable<List<Added>>> tasks = new ArrayList<>();
        for (int w = 0; w < 4; w++) {
            int worker = w;
            tasks.add(() -> {
                List<Added> results = new ArrayList<>();
                try (CurveLibrary own = CurveLibrary.openOrMake(library().location())) {
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
        assertThat(library().page(Filter.EVERYTHING, 1).total()).isEqualTo((int) distinct);
        assertThat(library().verify(READER).problems()).isEmpty();
    }
}
