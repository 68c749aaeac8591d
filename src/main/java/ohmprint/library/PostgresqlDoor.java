package ohmprint.library;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import com.zaxxer.hikari.pool.HikariPool;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import org.jdbi.v3.core.Jdbi;

/** Opens a library on a server. The pool renews connections that broke, which matters to a program that runs for days. */
final class PostgresqlDoor {
    private static final int MOST_CONNECTIONS = 4;
    private static final int NO_VERSION = 0;

    private PostgresqlDoor() {}

    /**
     * Opens the database.
     *
     * @param make whether its tables are made when they are not there
     */
    static Opened open(LibraryServer server, boolean make) throws LibraryException {
        HikariConfig config = new HikariConfig();
        config.setJdbcUrl(server.url());
        config.setDataSourceProperties(server.credentials());
        config.setMaximumPoolSize(MOST_CONNECTIONS);
        config.setMinimumIdle(0);
        config.setPoolName("library");
        config.addDataSourceProperty("ApplicationName", "ohmprint");
        // Numbers and bytes as they are, from the first use of a statement.
        config.addDataSourceProperty("prepareThreshold", "-1");
        HikariDataSource source;
        try {
            source = new HikariDataSource(config);
        } catch (HikariPool.PoolInitializationException e) {
            throw Objection.of(server, e);
        }
        try {
            upToDate(source, server, make);
        } catch (SQLException | LibraryException | RuntimeException e) {
            source.close();
            throw Objection.of(server, e);
        }
        return Opened.pooled(server, Jdbi.create(source), source::close);
    }

    private static void upToDate(HikariDataSource source, LibraryServer server, boolean make)
            throws SQLException, LibraryException {
        int version = version(source);
        Schema.checkReadable(version, server);
        if (version == NO_VERSION && !make) {
            throw new LibraryException("there is no library in " + server
                    + " yet; ohmprint library create makes its tables when the owner of the database runs it");
        }
        if (version < Schema.VERSION) {
            Schema.bringUpToDate(source, "postgresql", server);
        }
    }

    private static int version(HikariDataSource source) throws SQLException {
        try (Connection connection = source.getConnection();
                Statement statement = connection.createStatement()) {
            try (ResultSet there = statement.executeQuery("SELECT to_regclass('library_about') IS NOT NULL")) {
                if (!there.next() || !there.getBoolean(1)) {
                    return NO_VERSION;
                }
            }
            try (ResultSet version = statement.executeQuery("SELECT max(schema_version) FROM library_about")) {
                return version.next() ? version.getInt(1) : NO_VERSION;
            }
        }
    }
}
