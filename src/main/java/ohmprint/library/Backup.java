package ohmprint.library;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Collections;
import java.util.List;
import java.util.UUID;
import ohmprint.files.AtomicFile;
import org.jdbi.v3.core.Handle;

/** Copies a library of either kind, as it is at one moment, into a new library file. */
final class Backup {
    /** In an order in which each row finds what it refers to. */
    private static final List<String> TABLES = List.of(
            "microphone",
            "measurement",
            "curve_document",
            "curve_shape",
            "take",
            "supersession",
            "repair",
            "specification",
            "removal");

    private static final int ROWS_AT_A_TIME = 200;

    private Backup() {}

    /**
     * Writes the file, whole or not at all.
     *
     * @param isFile whether the library is one file itself
     */
    static void write(Database from, boolean isFile, Path file) throws LibraryException {
        Path target = file.toAbsolutePath();
        if (Files.exists(target)) {
            throw new LibraryException("backup " + file + " is there already; name a new file");
        }
        Path fresh = target.resolveSibling("." + target.getFileName() + "-" + UUID.randomUUID());
        try {
            if (isFile) {
                from.read(handle -> handle.execute("VACUUM INTO ?", fresh.toString()));
            } else {
                copy(from, new LibraryFile(fresh));
            }
            AtomicFile.place(fresh, target);
        } catch (FileAlreadyExistsException e) {
            throw new LibraryException("backup " + file + " is there already; name a new file", e);
        } catch (IOException e) {
            throw new LibraryException(
                    "backup " + file + " cannot be written (" + e.getMessage()
                            + "); check the folder and the space left on the disk",
                    e);
        } finally {
            LibraryFile.deleteAll(fresh);
        }
    }

    private static void copy(Database from, LibraryFile fresh) throws LibraryException {
        Database to = fresh.open(true);
        try {
            from.change(source -> {
                source.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY");
                return to.change(target -> {
                    for (String table : TABLES) {
                        copy(source, target, table);
                    }
                    return TABLES;
                });
            });
        } finally {
            to.close();
        }
    }

    private static void copy(Handle source, Handle target, String table) throws SQLException {
        Connection in = source.getConnection();
        try (Statement select = in.createStatement()) {
            select.setFetchSize(ROWS_AT_A_TIME);
            try (ResultSet row = select.executeQuery("SELECT * FROM " + table)) {
                int columns = row.getMetaData().getColumnCount();
                StringBuilder names = new StringBuilder();
                for (int i = 1; i <= columns; i++) {
                    names.append(i == 1 ? "" : ", ").append(row.getMetaData().getColumnName(i));
                }
                String places = String.join(", ", Collections.nCopies(columns, "?"));
                try (PreparedStatement insert = target.getConnection()
                        .prepareStatement("INSERT INTO " + table + " (" + names + ") VALUES (" + places + ")")) {
                    while (row.next()) {
                        for (int i = 1; i <= columns; i++) {
                            insert.setObject(i, row.getObject(i));
                        }
                        insert.executeUpdate();
                    }
                }
            }
        }
    }
}
