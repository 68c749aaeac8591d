package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Measurement;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.sqlite.SQLiteDataSource;

/** A library file that an older program wrote is opened, read and added to. The file is never made again. */
class OldLibraryTest {
    private static final Path VERSION_1 = Path.of("fixtures/library/library-v1.db");

    @TempDir
    Path folder;

    private Path old;

    @BeforeEach
    void copy() throws Exception {
        old = Files.copy(VERSION_1, folder.resolve("old.db"));
    }

    @Test
    void versionOneIsReadAndAddedTo() throws Exception {
        try (CurveLibrary library = CurveLibrary.open(new LibraryFile(old))) {
            assertThat(library.page(Filter.EVERYTHING, 9).entries())
                    .extracting(Entry::id)
                    .containsExactly("7cfc062d1b17", "c840e9cee5e0", "edb880d9ad35", "39801f4a7928");
            assertThat(library.page(Filter.ofWords(List.of("ribbon")), 9).total())
                    .isEqualTo(2);
            Entry repaired = library.entry("edb8");
            assertThat(repaired.label()).isEqualTo("Bench ribbon 9");
            assertThat(repaired.operator()).isEqualTo("Ada Quill");
            assertThat(repaired.note()).isEqualTo("from the session ribbon-repaired");
            Measurement m = CurveJson.read(library.document(repaired), "document");
            assertThat(m.curve().bands().fraction()).isEqualTo(3);
            assertThat(library.links(repaired)).singleElement().satisfies(link -> {
                assertThat(link.kind()).isEqualTo(Link.Kind.REPAIRED);
                assertThat(link.from()).isEqualTo("39801f4a7928");
            });
            assertThat(library.entry("7cfc").supersededBy()).isEqualTo("c840e9cee5e0");
            assertThat(library.removals()).extracting(Removal::label).containsExactly("Bench ribbon 7");
            assertThat(library.specification("Bench ribbon")).isPresent();
            assertThat(library.likest(CurveSignature.of(m.curve()), 3, "")).hasSize(3);
            assertThat(library.add(InventedUnits.added(1), false).fresh()).isTrue();
            assertThat(library.verify(CurveJson::read).problems()).isEmpty();
        }
    }

    @Test
    void bringingACurrentFileUpToDateChangesNothing() throws Exception {
        SQLiteDataSource source = new SQLiteDataSource();
        source.setUrl("jdbc:sqlite:" + old);
        byte[] before = Files.readAllBytes(old);

        Schema.bringUpToDate(flyway -> flyway.dataSource(source), "sqlite", "old");

        assertThat(Files.readAllBytes(old)).isEqualTo(before);
    }
}
