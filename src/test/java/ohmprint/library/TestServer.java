package ohmprint.library;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Map;

/** A real PostgreSQL, started once for all tests of a run; it ends with the Java that started it. */
final class TestServer {
    private static EmbeddedPostgres server;
    private static int databases;

    private TestServer() {}

    /** Address of a new, empty database. */
    static synchronized String newDatabase() throws IOException, SQLException {
        if (server == null) {
            server = EmbeddedPostgres.start();
        }
        databases++;
        execute("postgres", "CREATE DATABASE test" + databases);
        return address("test" + databases);
    }

    /** Address of a database. */
    static String address(String database) {
        return "jdbc:postgresql://localhost:" + server.getPort() + "/" + database;
    }

    /** Login of the owner. */
    static Map<String, String> owner() {
        return Map.of("PGUSER", "postgres");
    }

    /** Runs a statement as the owner. */
    static void execute(String database, String sql) throws SQLException {
        try (Connection c = DriverManager.getConnection(address(database) + "?user=postgres");
                Statement s = c.createStatement()) {
            s.execute(sql);
        }
    }
}
