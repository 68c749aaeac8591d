package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

@Tag("slow")
class SqliteLibraryTest extends LibraryContract {
    @Override
    LibraryLocation nowhere() {
        return new LibraryFile(file());
    }

    private Path file() {
        return folder.resolve("some folder/workshop.db");
    }

    @Override
    public Connection raw() throws SQLException {
        Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
        try (Statement statement = connection.createStatement()) {
            statement.execute("PRAGMA foreign_keys = ON");
        }
        return connection;
    }

    @Test
    void aFileThatIsClosedIsOneFile() throws Exception {
        Path other = folder.resolve("alone/one.db");
        try (CurveLibrary library = CurveLibrary.openOrMake(new LibraryFile(other))) {
            library.add(InventedUnits.added(1), false);
        }

        try (var files = Files.list(folder.resolve("alone"))) {
            assertThat(files).containsExactly(other);
        }
        Path copied = Files.copy(other, folder.resolve("copied.db"));
        try (CurveLibrary copy = CurveLibrary.open(new LibraryFile(copied))) {
            assertThat(copy.verify(READER)).isEqualTo(new LibraryHealth(copied.toString(), 1, List.of()));
        }
    }

    @Test
    void whatIsNoLibraryIsRefusedAndLeftAsItIs() throws Exception {
        Path text = Files.writeString(folder.resolve("notes.db"), "not a database at all, but long enough to look at");
        Path empty = Files.createFile(folder.resolve("empty.db"));
        Path foreign = folder.resolve("foreign.db");
        try (Connection c = DriverManager.getConnection("jdbc:sqlite:" + foreign);
                Statement s = c.createStatement()) {
            s.execute("CREATE TABLE x (y)");
        }

        assertThatThrownBy(() -> CurveLibrary.openOrMake(new LibraryFile(text)))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("damaged or no library");
        assertThatThrownBy(() -> CurveLibrary.openOrMake(new LibraryFile(empty)))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("empty file");
        assertThatThrownBy(() -> CurveLibrary.openOrMake(new LibraryFile(foreign)))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("another program");
        assertThatThrownBy(() -> CurveLibrary.openOrMake(new LibraryFile(folder)))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("a folder");
        assertThatThrownBy(() -> CurveLibrary.open(new LibraryFile(folder.resolve("none.db"))))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("there is no library");
        assertThat(text).hasContent("not a database at all, but long enough to look at");
        assertThat(empty).isEmptyFile();
    }

    @Test
    void aLibraryOfANewerProgramIsRefused() throws Exception {
        try (Connection c = raw();
                Statement s = c.createStatement()) {
            s.execute("PRAGMA user_version = 99");
        }

        assertThatThrownBy(() -> CurveLibrary.open(nowhere()))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("schema version 99")
                .hasMessageContaining("newer program");
    }

    @Test
    void replacingAndChangedDocumentsAreSeen() throws Exception {
        try (CurveLibrary library = CurveLibrary.open(nowhere())) {
            String id = library.add(InventedUnits.added(1), false).id();
            try (Connection c = raw();
                    Statement s = c.createStatement()) {
                assertThatThrownBy(() -> s.execute("REPLACE INTO measurement SELECT * FROM measurement"))
                        .hasMessageContaining("never replaced");
                assertThatThrownBy(() -> s.execute("REPLACE INTO curve_document SELECT measurement, x'00' FROM take"))
                        .hasMessageContaining("never replaced");
                s.execute("DROP TRIGGER curve_document_unchanged");
                s.execute("DROP TRIGGER measurement_unchanged");
                s.execute("UPDATE measurement SET label = 'Other' WHERE id = '" + id + "'");
            }
            assertThat(library.verify(READER).problems()).containsExactly(id + ": label is not what the document says");
            try (Connection c = raw();
                    Statement s = c.createStatement()) {
                s.execute("UPDATE curve_document SET gzip = x'1F8B'");
            }
            assertThat(library.verify(READER).problems())
                    .singleElement()
                    .asString()
                    .contains("cannot be unpacked");
            Entry entry = library.entry(id);
            assertThatThrownBy(() -> library.document(entry))
                    .isInstanceOf(LibraryException.class)
                    .hasMessageContaining("damaged");
        }
    }

    @Test
    void aFullDiskIsToldAndTheFileStaysWhole() throws Exception {
        Database opened = new LibraryFile(file()).open(false);
        try {
            opened.read(handle -> handle.execute("PRAGMA max_page_count = 80"));
            assertThatThrownBy(() -> {
                        for (int n = 0; n < 200; n++) {
                            NewMeasurement added = InventedUnits.added(n);
                            opened.change(handle -> added.addTo(handle, false));
                        }
                    })
                    .isInstanceOf(LibraryException.class)
                    .hasMessageContaining("the disk is full; nothing was changed");
        } finally {
            opened.close();
        }
        try (CurveLibrary library = CurveLibrary.open(nowhere())) {
            LibraryHealth health = library.verify(READER);
            assertThat(health.measurements()).isBetween(1, 199);
            assertThat(health.problems()).isEmpty();
        }
    }

    @Test
    void aFileThatMayOnlyBeReadIsRead() throws Exception {
        Path only = folder.resolve("only.db");
        try (CurveLibrary library = CurveLibrary.openOrMake(new LibraryFile(only))) {
            library.add(InventedUnits.added(1), false);
        }
        assertThat(only.toFile().setWritable(false)).isTrue();
        try (CurveLibrary library = CurveLibrary.open(new LibraryFile(only))) {
            assertThat(library.page(Filter.CURRENT, 9).total()).isEqualTo(1);
        }
    }
}
