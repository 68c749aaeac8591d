package ohmprint.library;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.PrintWriter;
import java.io.StringWriter;
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
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** On a real server, which is started for these tests. */
@Tag("process")
class PostgresqlLibraryTest extends LibraryContract {
    private static final Path PAGE = Path.of("src/site/markdown/library.md");
    private static String database;
    private static int schemas;

    @Override
    LibraryLocation nowhere() throws Exception {
        if (database == null) {
            database = TestServer.newDatabase();
        }
        schemas++;
        execute("CREATE SCHEMA workshop" + schemas);
        return as("postgres");
    }

    private static LibraryLocation as(String user) throws LibraryException {
        return LibraryLocation.of(inSchema(), Map.of("PGUSER", user));
    }

    private static String inSchema() {
        return database + "?currentSchema=workshop" + schemas;
    }

    @Override
    public Connection raw() throws SQLException {
        return DriverManager.getConnection(inSchema() + "&user=postgres");
    }

    private static void execute(String sql) throws SQLException {
        TestServer.execute(database.substring(database.lastIndexOf('/') + 1), sql);
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
        try (CurveLibrary contributor = CurveLibrary.openOrMake(as("con"))) {
            id = contributor.add(InventedUnits.added(1), false).id();
            contributor.keepSpecification("Heron", "version: 1\n", "con");
            Entry entry = contributor.entry(id);
            assertThatThrownBy(() -> contributor.remove(entry, "no", "con"))
                    .isInstanceOf(LibraryException.class)
                    .hasMessageContaining("this login may not do that");
        }
        try (CurveLibrary reader = CurveLibrary.open(as("rea"))) {
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
        assertThatThrownBy(() -> CurveLibrary.open(as("out"))).isInstanceOf(LibraryException.class);
        try (CurveLibrary keeper = CurveLibrary.open(as("kee"))) {
            keeper.add(InventedUnits.added(3), false);
            keeper.remove(keeper.entry(id), "wrong", "somebody else");
            assertThat(keeper.removals())
                    .singleElement()
                    .satisfies(r -> assertThat(r.by()).isEqualTo("kee"));
            try (Connection c = DriverManager.getConnection(inSchema() + "&user=kee");
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
    void aPasswordAppearsNowhereWhenTheServerCannotBeReached() throws Exception {
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
        assertThatThrownBy(() -> CurveLibrary.open(as("postgres")))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("ohmprint library create");
        execute("CREATE TABLE workshop" + schemas + ".other (x INTEGER)");
        assertThatThrownBy(() -> CurveLibrary.openOrMake(as("postgres")))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("other tables");
        assertThatThrownBy(
                        () -> CurveLibrary.open(LibraryLocation.of(TestServer.address("nowhere"), TestServer.owner())))
                .isInstanceOf(LibraryException.class)
                .hasMessageContaining("no such database");
    }

    private static String stack(Throwable e) {
        StringWriter text = new StringWriter();
        e.printStackTrace(new PrintWriter(text));
        return text.toString();
    }
}
