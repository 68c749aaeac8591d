package ohmprint.library;

import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Locale;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A library in a PostgreSQL database. It is reached by one connection, which lasts as long as the library is open.
 *
 * <p>Name and password of the user come from {@code PGUSER} and {@code PGPASSWORD}, the names that other PostgreSQL
 * programs use, or the password from the driver's own file ({@code ~/.pgpass} or what {@code PGPASSFILE} names). An address
 * that holds a password is refused, because addresses are seen in lists of processes, histories and messages.
 */
final class LibraryServer extends LibraryLocation {
    /** How its address begins. */
    static final String SCHEME = "jdbc:postgresql://";

    /** What may follow the name of the database; anything that loads code or holds a secret is not among it. */
    private static final Set<String> PARAMETERS = Set.of(
            "user",
            "currentSchema",
            "ssl",
            "sslmode",
            "sslrootcert",
            "sslcert",
            "sslkey",
            "channelBinding",
            "connectTimeout",
            "loginTimeout",
            "socketTimeout",
            "tcpKeepAlive",
            "targetServerType",
            "ApplicationName");

    private static final Pattern ADDRESS =
            Pattern.compile("(?i:jdbc:postgresql)://([A-Za-z0-9._\\-:,\\[\\]]+)/([^/?#@&=]+)(?:\\?(.*))?");

    private static final String LOGIN_SECONDS = "30";
    private static final int NO_VERSION = 0;

    private final String address;
    private final String parameters;
    private final Properties credentials;

    private LibraryServer(String address, String parameters, Properties credentials) {
        this.address = address;
        this.parameters = parameters;
        this.credentials = credentials;
    }

    static LibraryServer parse(String text, Map<String, String> environment) throws LibraryException {
        Matcher parts = ADDRESS.matcher(text);
        if (!parts.matches()) {
            throw new LibraryException("the address of the library is not like " + SCHEME
                    + "HOST:PORT/DATABASE?currentSchema=NAME; it holds neither user nor password before the host:"
                    + " those go into PGUSER and PGPASSWORD or the file ~/.pgpass");
        }
        String query = parts.group(3) == null ? "" : parts.group(3);
        for (String parameter : query.isEmpty() ? new String[0] : query.split("&", -1)) {
            check(parameter);
        }
        Properties credentials = new Properties();
        copy(environment, "PGUSER", credentials, "user");
        copy(environment, "PGPASSWORD", credentials, "password");
        return new LibraryServer(SCHEME + parts.group(1) + "/" + parts.group(2), query, credentials);
    }

    /** The name of a parameter may be told, its value not. */
    private static void check(String parameter) throws LibraryException {
        String name = name(parameter.replaceFirst("=.*", ""));
        if (name.toLowerCase(Locale.ROOT).contains("password")) {
            throw new LibraryException(
                    "the address of the library holds a password, which others could see; take it out"
                            + " and put it into PGPASSWORD or the file ~/.pgpass");
        }
        if (!PARAMETERS.contains(name)) {
            throw new LibraryException("the address of the library holds the parameter "
                    + (name.matches("[A-Za-z]{1,40}") ? name : "with an odd name") + "; possible are "
                    + String.join(", ", new TreeSet<>(PARAMETERS)));
        }
    }

    private static String name(String encoded) {
        try {
            return URLDecoder.decode(encoded, StandardCharsets.UTF_8);
        } catch (IllegalArgumentException e) {
            return "";
        }
    }

    private static void copy(Map<String, String> environment, String variable, Properties into, String key) {
        String value = environment.get(variable);
        if (value != null && !value.isEmpty()) {
            into.setProperty(key, value);
        }
    }

    /** Address with parameters, for the driver. */
    String url() {
        return parameters.isEmpty() ? address : address + "?" + parameters;
    }

    /** What the environment says of user and password; never to be printed. */
    Properties credentials() {
        Properties copy = new Properties();
        copy.putAll(credentials);
        return copy;
    }

    @Override
    public String toString() {
        return address;
    }

    @Override
    Database open(boolean make) throws LibraryException {
        Properties login = credentials();
        // What the address says goes before these.
        login.setProperty("ApplicationName", "ohmprint");
        login.setProperty("loginTimeout", LOGIN_SECONDS);
        // Numbers and bytes as they are, from the first use of a statement.
        login.setProperty("prepareThreshold", "-1");
        try {
            Connection connection = DriverManager.getConnection(url(), login);
            try {
                upToDate(connection, make);
            } catch (SQLException | LibraryException | RuntimeException e) {
                connection.close();
                throw e;
            }
            return new Database(toString(), connection);
        } catch (SQLException | RuntimeException e) {
            throw LibraryException.of(toString(), e);
        }
    }

    private void upToDate(Connection connection, boolean make) throws SQLException, LibraryException {
        int version = version(connection);
        Schema.checkReadable(version, toString());
        if (version == NO_VERSION && !make) {
            throw new LibraryException("there is no library in " + this
                    + " yet; ohmprint library create makes its tables when the owner of the database runs it");
        }
        if (version < Schema.VERSION) {
            Schema.bringUpToDate(
                    flyway -> flyway.dataSource(
                            url(), credentials.getProperty("user"), credentials.getProperty("password")),
                    "postgresql",
                    toString());
        }
    }

    private static int version(Connection connection) throws SQLException {
        try (Statement statement = connection.createStatement()) {
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
