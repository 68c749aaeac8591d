package ohmprint.library;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.locks.ReentrantLock;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.Jdbi;
import org.jspecify.annotations.Nullable;

/** An open database: one connection, which threads use in turn, and how rows and times are written. */
final class Database {
    /** Times in the tables: {@code 2026-01-31T12:00:00.000Z}, whose order as text is that in time. */
    private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern(
                    "uuuu-MM-dd'T'HH:mm:ss.SSS'Z'", Locale.ROOT)
            .withZone(ZoneOffset.UTC);

    /** Work within the connection. */
    @FunctionalInterface
    interface Work<T> {
        T on(Handle handle) throws Exception;
    }

    private final String library;
    private final Connection connection;
    private final Jdbi jdbi;
    private final ReentrantLock turn = new ReentrantLock();

    /**
     * Takes over a connection.
     *
     * @param library what messages call the library
     */
    Database(String library, Connection connection) {
        this.library = library;
        this.connection = connection;
        this.jdbi = Jdbi.create(connection);
    }

    /** A time as it stands in the tables. */
    static String time(Instant time) {
        return TIME.format(time);
    }

    /**
     * Inserts a row, given as values by column, unless its key is taken.
     *
     * @return whether it was inserted
     */
    static boolean insert(Handle handle, String table, Map<String, ? extends @Nullable Object> row) {
        Set<String> columns = row.keySet();
        return handle.createUpdate("INSERT INTO " + table + " (" + String.join(", ", columns) + ") VALUES (:"
                                + String.join(", :", columns) + ") ON CONFLICT DO NOTHING")
                        .bindMap(row)
                        .execute()
                > 0;
    }

    /** Reads. */
    <T> T read(Work<T> work) throws LibraryException {
        return inTurn(() -> jdbi.withHandle(work::on));
    }

    /** Changes things within one transaction: all of it or nothing. */
    <T> T change(Work<T> work) throws LibraryException {
        return inTurn(() -> jdbi.inTransaction(work::on));
    }

    private <T> T inTurn(Task<T> task) throws LibraryException {
        turn.lock();
        try {
            return task.run();
        } catch (Exception e) {
            throw LibraryException.of(library, e);
        } finally {
            turn.unlock();
        }
    }

    @FunctionalInterface
    private interface Task<T> {
        T run() throws Exception;
    }

    void close() {
        try {
            connection.close();
        } catch (SQLException e) {
            throw new IllegalStateException("a library could not be closed", e);
        }
    }
}
