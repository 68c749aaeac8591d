package ohmprint.app.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.exchange.CurveJson;
import ohmprint.library.Entry;
import ohmprint.library.EntryList;
import ohmprint.library.Filter;
import ohmprint.library.InventedUnits;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** A library on a disk or in a folder that may only be read, such as an archive or a colleague's. */
@Tag("process")
@EnabledOnOs({OS.LINUX, OS.MAC})
class ReadOnlyLibraryTest {
    @TempDir
    Path dir;

    private Path folder;
    private boolean mounted;

    /** A name with characters that mean something in an address. */
    private Path file() {
        return folder.resolve("our 100% library?#1.db");
    }

    private LibraryConnection place() {
        return new LibraryConnection(file().toString(), Map.of("OHMPRINT_OPERATOR", "somebody"));
    }

    private AddToLibrary.Request request(int unit) throws IOException {
        Path json = Files.writeString(dir.resolve(unit + ".json"), CurveJson.write(InventedUnits.unit(unit)));
        return new AddToLibrary.Request(List.of(json.toString()), "somebody", null, null, null, false);
    }

    @BeforeEach
    void fill() throws Exception {
        folder = Files.createDirectory(dir.resolve("archive"));
        // Root may write everywhere but on a disk that is mounted for reading.
        mounted = runs("mount", "-t", "tmpfs", "-o", "size=8m", "tmpfs", folder.toString());
        AddToLibrary.run(place(), request(1), each -> {});
        AddToLibrary.run(place(), request(2), each -> {});
    }

    private void forbidWriting() throws Exception {
        assertThat(
                        mounted
                                ? runs("mount", "-o", "remount,ro", folder.toString())
                                : runs("chmod", "a-w", folder.toString(), file().toString()))
                .isTrue();
    }

    @AfterEach
    void unmount() throws Exception {
        assertThat(mounted ? runs("umount", folder.toString()) : runs("chmod", "-R", "u+w", folder.toString()))
                .isTrue();
    }

    @Test
    void itIsListedFoundAndHandedOut() throws Exception {
        forbidWriting();
        EntryList all = ReadLibrary.list(place(), Filter.CURRENT, 10);
        assertThat(all.total()).isEqualTo(2);
        String label = InventedUnits.unit(1).microphone().label();
        assertThat(all.entries()).extracting(Entry::label).contains(label);
        String id = all.entries().get(0).id();
        assertThat(ReadLibrary.show(place(), id).entry().id()).isEqualTo(id);
        Path bundle = dir.resolve("bundle.zip");
        Bundle.export(place(), List.of(id), Filter.CURRENT, false, bundle);
        LibraryConnection other = new LibraryConnection(dir.resolve("other.db").toString(), Map.of());
        Bundle.take(other, bundle);
        assertThat(ReadLibrary.list(other, Filter.CURRENT, 10).total()).isEqualTo(1);
        try (Stream<Path> left = Files.list(folder)) {
            assertThat(left).containsExactly(file());
        }
    }

    @Test
    void addingSaysWhatIsWrongAndWhatToDo() throws Exception {
        forbidWriting();
        AddToLibrary.Request third = request(3);
        assertThatThrownBy(() -> AddToLibrary.run(place(), third, each -> {}))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining(file().toString())
                .hasMessageContaining("cannot be written to")
                .hasMessageContaining("permissions")
                .hasMessageContaining("name another library");
    }

    /** A program was killed here: the last change lies beside the file still. Copies stand for what it would leave. */
    @Test
    void changesThatAreNotInTheFileYetAreReadOrMissedAloud() throws Exception {
        Path copy = folder.resolve("killed.db");
        try (Connection open = DriverManager.getConnection("jdbc:sqlite:" + file().toUri());
                Statement statement = open.createStatement()) {
            statement.execute("PRAGMA journal_mode = WAL");
            statement.execute("PRAGMA wal_autocheckpoint = 0");
            AddToLibrary.run(place(), request(3), each -> {});
            Files.copy(file(), copy);
            Files.copy(beside(file(), "-wal"), beside(copy, "-wal"));
        }
        assertThat(beside(copy, "-wal")).isNotEmptyFile();
        forbidWriting();
        LibraryConnection killed = new LibraryConnection(copy.toString(), Map.of());
        long seen;
        try {
            seen = ReadLibrary.list(killed, Filter.CURRENT, 10).total();
        } catch (BadInputException e) {
            assertThat(e)
                    .hasMessageContaining(copy.toString())
                    .hasMessageContaining("-wal")
                    .hasMessageContaining("may be written");
            return;
        }
        assertThat(seen).as("the one that lies beside the file, too").isEqualTo(3);
    }

    @Test
    void anOlderOneSaysThatItMustBeBroughtUpToDateElsewhere() throws Exception {
        try (Connection open = DriverManager.getConnection("jdbc:sqlite:" + file().toUri());
                Statement statement = open.createStatement()) {
            statement.execute("PRAGMA user_version = 0");
        }
        forbidWriting();
        assertThatThrownBy(() -> ReadLibrary.list(place(), Filter.CURRENT, 10))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("older version")
                .hasMessageContaining("copy");
    }

    private static Path beside(Path file, String ending) {
        return file.resolveSibling(file.getFileName() + ending);
    }

    private static boolean runs(String... command) throws Exception {
        Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
        new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        return process.waitFor() == 0;
    }
}
