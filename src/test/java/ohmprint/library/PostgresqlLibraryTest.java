package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** On a real server, which is started for these tests. */
class PostgresqlLibraryTest extends LibraryContract {
    private static final Path PAGE = Path.of("src/site/markdown/library.md");
    private static EmbeddedPostgres server;
    private static int schemas;

    @BeforeAll
    static void start() throws Exception {
        server = EmbeddedPostgres.start();
    }

    @AfterAll
    static void stop() throws Exception {
        server.close();
    }

    @Override
    LibraryLocation nowhere() throws Exception {
        schemas++;
        execute("CREATE SCHEMA workshop" + schemas);
        return as("postgres", null);
    }

    private static LibraryLocation as(String user, String password) throws LibraryException {
        return LibraryLocation.of(
                "jdbc:postgresql://localhost:" + server.getPort() + "/postgres?currentSchema=workshop" + schemas,
                password == null ? Map.of("PGUSER", user) : Map.of("PGUSER", user, "PGPASSWORD", password));
    }

    @Override
    Connection raw() throws SQLException {
        return DriverManager.getConnection("jdbc:postgresql://localhost:" + server.getPort()
                + "/postgres?user=postgres&currentSchema=workshop" + schemas);
    }

    private static void execute(String sql) throws SQLException {
        try (Connection c = server.getPostgresDatabase().getConnection();
                Statement s = c.createStatement()) {
            s.execute(sql);
        }
    }

    @Test
    void rolesAsTheGuideMakesThemMayDoWhatTheGuideSays() throws Exception {
        Matcher sql = Pattern.compile("```sql\n(.*?)```", Pattern.DOTALL).matcher(Files.readString(PAGE));
        assertThat(sql.find()).isTrue();
        execute("SET search_path TO workshop" + schemas + ";"
                + sql.group(1).replace("SCHEMA public", "SCHEMA workshop" + schemas));
        execute("CREATE ROLE rea LOGIN IN ROLE ohmprint_reader; CREATE ROLE con LOGIN IN ROLE ohmprint_contributor;"
                + " CREATE ROLE kee LOGIN IN ROLE ohmprint_keeper; CREATE ROLE out LOGIN");

        String id;
        try (CurveLibrary contributor = CurveLibrary.openOrMake(as("con", null))) {
            id = contributor.add(InventedUnits.added(1), false).id();
            contributor.keepSpecification("Heron", "version: 1\n", "con");
            Entry entry = contributor.entry(id);
            assertThatThrownBy(() -> contributor.remove(entry, "no", "con"))
                    .isInstanceOf(LibraryException.class)
                    .hasMessageContaining("this login may not do that");
        }
        try (CurveLibrary reader = CurveLibrary.open(as("rea", null))) {
            assertThat(reader.page(Filter.CURRENT, 9).total()).isEqualTo(1);
            assertThat(reader.document(reader.entry(id))).contains("Heron");
            assertThat(reader.verify(READER).problems()).isEmpty();
            assertThatThrownBy(() -> reader.add(InventedUnits.added(2), false))
                    .isInstanceOf(LibraryException.class)
                    .hasMessageContaining("this login may not do that");
            Path file = folder.resolve("reader.db");
            reader.backUp(file);
            assertThat(file).isNotEmptyFile();
        }
        assertThatThrownBy(() -> CurveLibrary.open(as("out", null))).isInstanceOf(LibraryException.class);
        try (CurveLibrary keeper = CurveLibrary.open(as("kee", null))) {
            keeper.add(InventedUnits.added(3), false);
            keeper.remove(keeper.entry(id), "wrong", "somebody else");
            assertThat(keeper.removals())
                    .singleElement()
                    .satisfies(r -> assertThat(r.by()).isEqualTo("kee"));
            try (Connection c = DriverManager.getConnection("jdbc:postgresql://localhost:" + server.getPort()
                            + "/postgres?user=kee&currentSchema=workshop" + schemas);
                    Statement s = c.createStatement()) {
                for (String statement : List.of(
                        "UPDATE measurement SET label = 'x'",
                        "DELETE FROM measurement",
                        "DELETE FROM removal",
                        "TRUNCATE measurement CASCADE",
                        "ALTER TABLE measurement DISABLE TRIGGER ALL",
                        "DROP TABLE removal")) {
                    assertThatThrownBy(() -> s.execute(statement)).isInstanceOf(SQLException.class);
                }
            }
        }
    }

    @Test
    void aWrongPasswordIsRefusedAndAppearsNowhere() throws Exception {
        execute("CREATE ROLE locked LOGIN PASSWORD 'right'");
        assertThatThrownBy(() -> CurveLibrary.open(LibraryLocation.of(
                        "jdbc:postgresql://localhost:1/postgres", Map.of("PGUSER", "u", "PGPASSWORD", "s3cret"))))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("cannot be reached")
                .satisfies(e -> assertThat(stack(e)).doesNotContain("s3cret"));
    }

    @Test
    void whereThereIsNoLibraryTheNextStepIsTold() throws Exception {
        schemas++;
        execute("CREATE SCHEMA workshop" + schemas);
        assertThatThrownBy(() -> CurveLibrary.open(as("postgres", null)))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("ohmprint library create");
        execute("CREATE TABLE workshop" + schemas + ".other (x INTEGER)");
        assertThatThrownBy(() -> CurveLibrary.openOrMake(as("postgres", null)))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("other tables");
        assertThatThrownBy(() -> CurveLibrary.open(LibraryLocation.of(
                        "jdbc:postgresql://localhost:" + server.getPort() + "/nowhere", Map.of("PGUSER", "postgres"))))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("no such database");
    }

    private static String stack(Throwable e) {
        java.io.StringWriter text = new java.io.StringWriter();
        e.printStackTrace(new java.io.PrintWriter(text));
        return text.toString();
    }
}
