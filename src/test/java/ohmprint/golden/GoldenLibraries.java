package ohmprint.golden;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import ohmprint.exchange.CurveJson;
import ohmprint.library.InventedUnits;

/** A library that is worked in by commands, with all rows of all its tables after that. */
final class GoldenLibraries {
    private static final int LONGEST = 200;
    /** Columns of the record of schema versions that say when, by whom and how fast it was set up. */
    private static final Set<String> OF_THE_MOMENT =
            Set.of("installed_by", "installed_on", "execution_time", "checksum");

    private GoldenLibraries() {}

    static void write(GoldenOutputs outputs, Path folder) throws IOException, SQLException {
        CommandTranscript line = new CommandTranscript(outputs);
        Path db = folder.resolve("w.db");
        Object[] at = {"--library", db};
        line.run("list-missing", with(at, "library", "list"));
        line.run("create", with(at, "library", "create"));
        line.run("list-empty", with(at, "library", "list"));
        List<String> ids = new ArrayList<>();
        for (int n = 1; n <= 8; n++) {
            ids.add(line.printed("add-" + n, with(at, "library", "add", unit(folder, n), "--operator", "Ada Quill")));
        }
        line.run("add-again", with(at, "library", "add", unit(folder, 1), "--operator", "Bo Finch", "--note", "again"));
        line.run(
                "add-two-json",
                with(at, "library", "add", unit(folder, 9), unit(folder, 10), "--json", "--operator", "Bo"));
        line.run("add-none", with(at, "library", "add", folder.resolve("none"), unit(folder, 11)));
        line.run(
                "add-after-repair",
                with(at, "library", "add", same(folder, 12, 5), "--after-repair-of", ids.get(4), "--operator", "Ben"));
        line.run(
                "add-supersedes",
                with(at, "library", "add", same(folder, 13, 6), "--supersedes", ids.get(5), "--operator", "Ben"));
        line.run(
                "add-specification", with(at, "library", "add", "fixtures/check/ribbon-300.yaml", "--operator", "Ada"));
        line.run(
                "repaired",
                with(at, "library", "repaired", ids.get(0), ids.get(7), "--note", "new coil", "--operator", "Ada"));
        line.run(
                "supersede",
                with(
                        at,
                        "library",
                        "supersede",
                        ids.get(1),
                        ids.get(2),
                        "--reason",
                        "wrong load",
                        "--operator",
                        "Ada"));
        line.run("supersede-itself", with(at, "library", "supersede", ids.get(1), ids.get(1), "--reason", "no"));
        line.run("show", with(at, "library", "show", ids.get(1)));
        line.run("show-json", with(at, "library", "show", ids.get(0), "--json"));
        line.run("show-curve", with(at, "library", "show", ids.get(0), "--curve"));
        line.run("show-unknown", with(at, "library", "show", "ffffffffffff"));
        line.run("show-short", with(at, "library", "show", "ff"));
        line.run("show-specification", with(at, "library", "show", "ribbon-300", "--specification"));
        line.run("list", with(at, "library", "list"));
        line.run("list-json", with(at, "library", "list", "--json", "--limit", "3"));
        line.run("list-superseded", with(at, "library", "list", "--superseded", "--transducer", "ribbon"));
        line.run("list-since", with(at, "library", "list", "--since", "2026-02-01", "--until", "2026-02-02"));
        line.run("list-specifications", with(at, "library", "list", "--specifications"));
        line.run("list-yesterday", with(at, "library", "list", "--since", "yesterday"));
        line.run("list-limit", with(at, "library", "list", "--limit", "0"));
        line.run("find", with(at, "library", "find", "heron", "quill"));
        line.run("find-nothing", with(at, "library", "find", "no", "such", "words"));
        line.run("find-like", with(at, "library", "find", "--like", ids.get(0)));
        line.run("find-like-json", with(at, "library", "find", "--like", ids.get(0), "--json", "--limit", "2"));
        line.run(
                "compare",
                with(
                        at,
                        "library",
                        "compare",
                        ids.get(0),
                        ids.get(7),
                        "--picture",
                        folder.resolve("pair.svg"),
                        "--csv",
                        folder.resolve("pair.csv")));
        outputs.file("compare.svg", Files.readAllBytes(folder.resolve("pair.svg")));
        outputs.file("compare.csv", Files.readAllBytes(folder.resolve("pair.csv")));
        line.run(
                "compare-json",
                with(at, "library", "compare", ids.get(0), ids.get(7), ids.get(2), "--json", "--same-bench"));
        line.run("compare-one", with(at, "library", "compare", ids.get(0)));
        line.run(
                "spread",
                with(
                        at,
                        "library",
                        "spread",
                        "Heron",
                        "--picture",
                        folder.resolve("heron.svg"),
                        "--out",
                        folder.resolve("heron.yaml")));
        outputs.file("spread.svg", Files.readAllBytes(folder.resolve("heron.svg")));
        outputs.file("spread.yaml", Files.readAllBytes(folder.resolve("heron.yaml")));
        line.run("spread-json", with(at, "library", "spread", "Heron", "--json"));
        line.run("spread-unknown", with(at, "library", "spread", "Auk"));
        line.run("remove-without-reason", with(at, "library", "remove", ids.get(3)));
        line.run(
                "remove",
                with(at, "library", "remove", ids.get(3), "--reason", "wrong one", "--operator", "Ada Quill"));
        line.run("add-removed", with(at, "library", "add", unit(folder, 4)));
        line.run("add-removed-again", with(at, "library", "add", unit(folder, 4), "--again", "--operator", "Ada"));
        Path bundle = folder.resolve("some.zip");
        line.run("export", with(at, "library", "export", bundle, ids.get(0), ids.get(6), "--specifications"));
        outputs.file("export.zip", Files.readAllBytes(bundle));
        Object[] other = {"--library", folder.resolve("other.db")};
        line.run("import", with(other, "library", "import", bundle));
        line.run("import-again-json", with(other, "library", "import", bundle, "--json"));
        line.run(
                "import-damaged",
                with(other, "library", "import", Files.write(folder.resolve("bad.zip"), damaged(bundle))));
        line.run("verify", with(at, "library", "verify"));
        line.run("verify-json", with(other, "library", "verify", "--json"));
        line.run("backup", with(at, "library", "backup", folder.resolve("copy.db")));
        outputs.text("tables.txt", tables(db));
        outputs.text("tables-of-import.txt", tables(folder.resolve("other.db")));
        outputs.text("tables-of-backup.txt", tables(folder.resolve("copy.db")));
        Path old = Files.copy(Path.of("fixtures/library/library-v1.db"), folder.resolve("old.db"));
        line.run("list-old", "library", "list", "--library", old);
        outputs.text("tables-of-old.txt", tables(old));
    }

    /** The bundle with one bit of a measurement turned, before it was packed: how it packs depends on the time in it. */
    private static byte[] damaged(Path bundle) throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try (ZipInputStream in = new ZipInputStream(Files.newInputStream(bundle));
                ZipOutputStream copy = new ZipOutputStream(out)) {
            for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
                byte[] bytes = in.readAllBytes();
                if (entry.getName().endsWith("curve.json")) {
                    bytes[bytes.length / 2] ^= 1;
                }
                copy.putNextEntry(new ZipEntry(entry.getName()));
                copy.write(bytes);
            }
        }
        return out.toByteArray();
    }

    private static Object[] with(Object[] library, Object... words) {
        List<Object> all = new ArrayList<>(List.of(words));
        all.addAll(List.of(library));
        return all.toArray();
    }

    private static Path unit(Path folder, int n) throws IOException {
        return written(folder, n, CurveJson.write(InventedUnits.unit(n)));
    }

    /** Another measurement of a unit's model. */
    private static Path same(Path folder, int n, int model) throws IOException {
        return written(folder, n, CurveJson.write(InventedUnits.unit(n, model % 7, 3, 0.01)));
    }

    private static Path written(Path folder, int n, String json) throws IOException {
        Path result = Files.createDirectories(folder.resolve("unit-" + n));
        Files.writeString(result.resolve("curve.json"), json);
        return result;
    }

    /** All tables with their columns and rows; long texts as a digest. */
    private static String tables(Path db) throws SQLException {
        StringBuilder out = new StringBuilder();
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + db);
                Statement statement = connection.createStatement()) {
            List<String> tables = new ArrayList<>();
            try (ResultSet all = statement.executeQuery(
                    "SELECT name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite_%' ORDER BY type, name")) {
                while (all.next()) {
                    out.append(all.getString(2)).append(";\n");
                    if (String.valueOf(all.getString(2)).startsWith("CREATE TABLE")) {
                        tables.add(all.getString(1));
                    }
                }
            }
            for (String table : tables) {
                out.append("\n== ").append(table).append('\n');
                try (ResultSet rows = statement.executeQuery("SELECT * FROM \"" + table + "\" ORDER BY 1, 2")) {
                    rows(rows, out);
                }
            }
        }
        return out.toString();
    }

    private static void rows(ResultSet rows, StringBuilder out) throws SQLException {
        int columns = rows.getMetaData().getColumnCount();
        while (rows.next()) {
            for (int c = 1; c <= columns; c++) {
                String column = rows.getMetaData().getColumnName(c);
                Object value = rows.getObject(c);
                out.append(c == 1 ? "- " : "  ").append(column).append(": ");
                if (OF_THE_MOMENT.contains(column)) {
                    out.append("<").append(column).append(">\n");
                } else if (value instanceof byte[] bytes) {
                    out.append(bytes.length).append(" bytes\n");
                } else {
                    String text = String.valueOf(value);
                    out.append(
                                    text.length() <= LONGEST
                                            ? text
                                            : "text of " + text.lines().count() + " lines, sha256 "
                                                    + GoldenOutputs.sha256(GoldenOutputs.rounded(text)))
                            .append('\n');
                }
            }
        }
    }
}
