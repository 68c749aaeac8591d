package ohmprint.library;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.UUID;
import ohmprint.files.AtomicFile;
import org.jspecify.annotations.Nullable;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteDataSource;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/**
 * A library in one file, which need not exist.
 *
 * <p>A new library is made complete beside its place and gets its name then, so that nobody meets half of one, and several
 * programs may start on the same new file. Writers queue: SQLite lets one write at a time, and each waits for its turn.
 */
final class LibraryFile extends LibraryLocation {
    /** Marks the file as a library, as the first bytes of other formats do: "OhmP" in ASCII. */
    static final int APPLICATION_ID = 0x4F686D50;

    /** Long enough for many programs that add at once. */
    private static final int WAIT_MS = 90_000;

    private static final long MAPPED_BYTES = 1L << 30;
    private static final int CACHE_KIB = 64 * 1024;

    private final Path given;
    private final Path path;

    LibraryFile(Path given) {
        this.given = given;
        this.path = given.toAbsolutePath();
    }

    @Override
    public String toString() {
        return given.toString();
    }

    @Override
    Database open(boolean make) throws LibraryException {
        if (!Files.exists(path)) {
            if (!make) {
                throw new LibraryException("there is no library " + given
                        + " yet; ohmprint library add or library create makes it, or name another one with --library");
            }
            make();
        }
        try {
            if (Files.isDirectory(path) || Files.size(path) == 0) {
                throw new LibraryException("library " + given + " is "
                        + (Files.isDirectory(path) ? "a folder" : "an empty file") + "; name the file of a library");
            }
            Path folder = path.getParent();
            boolean readOnly = !Files.isWritable(path) || (folder != null && !Files.isWritable(folder));
            Connection connection = readOnly ? reading() : source(path, false).getConnection();
            try {
                upToDate(connection, readOnly);
                if (!readOnly) {
                    writeAhead(connection);
                }
            } catch (SQLException | LibraryException | RuntimeException e) {
                connection.close();
                throw e;
            }
            return new Database(toString(), connection);
        } catch (SQLException | IOException e) {
            throw LibraryException.of(toString(), e);
        }
    }

    /**
     * Opens a file that may only be read. Usually a reader makes files beside the library, by which it and writers know of
     * each other. Where it may not, and none are there, nobody is writing, and the file is read as one that does not change.
     *
     * @throws LibraryException if a change lies beside the file that can neither be read so nor brought into it
     */
    private Connection reading() throws SQLException, IOException, LibraryException {
        @Nullable Connection usual = null;
        try {
            // The settings that are made on opening read the file already.
            usual = source(path, true).getConnection();
            number(usual, "SELECT count(*) FROM sqlite_master");
            return usual;
        } catch (SQLiteException e) {
            if (usual != null) {
                usual.close();
            }
            String code = e.getResultCode().name();
            if (!code.startsWith("SQLITE_CANTOPEN") && !code.startsWith("SQLITE_READONLY")) {
                throw e;
            }
        }
        Path unfinished = path.resolveSibling(path.getFileName() + "-wal");
        if (Files.exists(unfinished) && Files.size(unfinished) > 0) {
            throw new LibraryException(
                    "library " + given + " may only be read here, and changes that are not in it yet lie"
                            + " beside it in " + unfinished.getFileName()
                            + "; open it once where it may be written, or copy both files to such a place");
        }
        SQLiteDataSource source = source(path, true);
        source.setUrl("jdbc:sqlite:file:" + path.toUri().getRawPath() + "?immutable=1");
        return source.getConnection();
    }

    /**
     * Lets readers go on while one writes. A backup begins without that, as it is one file then; while others have it open
     * it cannot be changed, and goes on without.
     */
    private static void writeAhead(Connection connection) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            statement.execute("PRAGMA journal_mode = WAL");
        } catch (SQLiteException e) {
            if (e.getResultCode() != SQLiteErrorCode.SQLITE_BUSY) {
                throw e;
            }
        }
    }

    private static SQLiteDataSource source(Path path, boolean readOnly) {
        SQLiteConfig config = new SQLiteConfig();
        config.setReadOnly(readOnly);
        config.setBusyTimeout(WAIT_MS);
        config.enforceForeignKeys(true);
        // Writers take their turn at the start; a reader that turns into a writer could not wait.
        config.setTransactionMode(SQLiteConfig.TransactionMode.IMMEDIATE);
        config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
        config.setPragma(SQLiteConfig.Pragma.MMAP_SIZE, Long.toString(MAPPED_BYTES));
        config.setCacheSize(-CACHE_KIB);
        SQLiteDataSource source = new SQLiteDataSource(config);
        source.setUrl("jdbc:sqlite:" + path);
        return source;
    }

    private void upToDate(Connection connection, boolean readOnly) throws SQLException, IOException, LibraryException {
        if (number(connection, "PRAGMA application_id") != APPLICATION_ID) {
            throw new LibraryException(
                    "library " + given + " is a file of another program; name the file of a library");
        }
        int version = number(connection, "PRAGMA user_version");
        Schema.checkReadable(version, toString());
        if (version == Schema.VERSION) {
            return;
        }
        if (readOnly) {
            throw new LibraryException(
                    "library " + given + " is of an older version and must be brought up to date, but may"
                            + " only be read here; copy it to where it may be written and name the copy");
        }
        // One program at a time; the others find it done.
        Path turn = path.resolveSibling(path.getFileName() + ".upgrade");
        try (FileChannel channel = FileChannel.open(turn, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
                FileLock lock = channel.lock()) {
            if (lock.isValid() && number(connection, "PRAGMA user_version") < Schema.VERSION) {
                bringUpToDate(source(path, false));
            }
            Files.deleteIfExists(turn);
        }
    }

    private void bringUpToDate(SQLiteDataSource source) throws LibraryException {
        Schema.bringUpToDate(flyway -> flyway.dataSource(source), "sqlite", toString());
    }

    private void make() throws LibraryException {
        Path folder = path.getParent();
        Path fresh = path.resolveSibling("." + path.getFileName() + "-" + UUID.randomUUID());
        try {
            if (folder != null) {
                Files.createDirectories(folder);
            }
            SQLiteDataSource source = source(fresh, false);
            try (Connection connection = source.getConnection()) {
                writeAhead(connection);
            }
            bringUpToDate(source);
            AtomicFile.place(fresh, path);
        } catch (FileAlreadyExistsException e) {
            // Another program was first; its library is as good.
            return;
        } catch (SQLException e) {
            throw LibraryException.of(toString(), e);
        } catch (IOException e) {
            String why = e instanceof AccessDeniedException ? "permission denied" : String.valueOf(e.getMessage());
            throw new LibraryException(
                    "library " + given + " cannot be made (" + why + "); check the folder or name another library", e);
        } finally {
            deleteAll(fresh);
        }
    }

    /** Removes a database with the files that belong to it. */
    static void deleteAll(Path database) throws LibraryException {
        for (String rest : List.of("", "-wal", "-shm", "-journal")) {
            Path path = database.resolveSibling(database.getFileName() + rest);
            try {
                Files.deleteIfExists(path);
            } catch (IOException e) {
                throw new LibraryException("the leftover " + path + " cannot be removed; remove it by hand", e);
            }
        }
    }

    private static int number(Connection connection, String sql) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet result = statement.executeQuery(sql)) {
            return result.next() ? result.getInt(1) : 0;
        }
    }
}
