package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import ohmprint.exchange.CurveJson;
import ohmprint.library.InventedUnits;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

@Tag("slow")
class LibraryCommandTest {
    @TempDir
    Path folder;

    private String out = "";
    private String err = "";

    private int run(String... words) {
        List<String> args = new ArrayList<>(List.of("library"));
        args.addAll(List.of(words));
        args.addAll(List.of("--library", folder.resolve("w.db").toString()));
        return plain(args.toArray(String[]::new));
    }

    private int plain(String... args) {
        StringWriter stdout = new StringWriter();
        StringWriter stderr = new StringWriter();
        int code = Main.run(args, new PrintWriter(stdout), new PrintWriter(stderr));
        out = stdout.toString();
        err = stderr.toString();
        return code;
    }

    private String unit(int n) throws Exception {
        Path result = Files.createDirectories(folder.resolve("unit " + n));
        Files.writeString(result.resolve("curve.json"), CurveJson.write(InventedUnits.unit(n)));
        return result.toString();
    }

    private String added(int n) throws Exception {
        assertThat(run("add", unit(n), "--operator", "Ada Quill")).as(err).isZero();
        return out.strip();
    }

    private String path(String name) {
        return folder.resolve(name).toString();
    }

    @Test
    void addPrintsTheIdentifierAloneEachTime() throws Exception {
        String id = added(1);
        assertThat(id).matches("[0-9a-f]{12}");
        assertThat(err).isEmpty();
        assertThat(added(1)).isEqualTo(id);
        assertThat(err).contains("in the library already");
        assertThat(run("add", unit(2), unit(3), "--json")).isZero();
        JsonNode json = new ObjectMapper().readTree(out);
        assertThat(json).hasSize(2);
        assertThat(json.get(0).get("new").booleanValue()).isTrue();
    }

    @Test
    void addingAgainSaysWhatOfTheCallWasNotSaved() throws Exception {
        String id = added(1);
        assertThat(run("add", unit(1), "--operator", "Bo Finch", "--note", "again"))
                .isZero();
        assertThat(out.strip()).isEqualTo(id);
        assertThat(err)
                .contains("in the library already, as " + id)
                .contains("keeps operator 'Ada Quill' and no note")
                .contains("operator 'Bo Finch' and note 'again' were not saved");
        assertThat(run("add", unit(1), "--operator", "Ada Quill", "--json")).isZero();
        assertThat(err).doesNotContain("not saved");
        assertThat(new ObjectMapper().readTree(out).get(0).path("notes")).isEmpty();
    }

    @Test
    void beforeAndAfterOfTwoMicrophonesIsWarnedOf() throws Exception {
        String first = added(1);
        String second = added(2);
        assertThat(run("repaired", first, second)).isZero();
        assertThat(err).contains("warning", "two different microphones");
        assertThat(run("add", unit(3), "--after-repair-of", first)).isZero();
        assertThat(err).contains("two different microphones");
        assertThat(run("compare", first, second)).isZero();
        assertThat(out).contains("two different microphones");
        assertThat(plain(
                        "report",
                        unit(1),
                        "--compare",
                        unit(2),
                        "--out",
                        folder.resolve("sheet.html").toString()))
                .as(err)
                .isZero();
        assertThat(err).contains("warning", "two different microphones");
        assertThat(folder.resolve("sheet.html")).content().contains("two different microphones");
    }

    @Test
    void listAndFindPrintATableOrAList() throws Exception {
        String first = added(1);
        String second = added(2);
        assertThat(run("list")).isZero();
        assertThat(out.lines().toList()).hasSize(3);
        assertThat(out).contains("Heron unit 1");
        assertThat(run("list", "--json")).isZero();
        JsonNode json = new ObjectMapper().readTree(out);
        assertThat(json.isArray()).isTrue();
        assertThat(json.get(1).get("id").textValue()).isEqualTo(first);
        assertThat(json.get(1).get("label").textValue()).isEqualTo("Heron unit 1");
        assertThat(json.get(1).get("measured_at").textValue()).isEqualTo("2026-02-01T08:01:00Z");
        assertThat(run("find", "wren", "--json")).isZero();
        assertThat(new ObjectMapper().readTree(out).get(0).get("id").textValue())
                .isEqualTo(second);
        assertThat(run("find", "nothing of this kind")).isZero();
        assertThat(out).startsWith("Nothing found");
        assertThat(run("list", "--limit", "1")).isZero();
        assertThat(out).contains("and 1 more");
    }

    @Test
    void likenessComesWithItsCaution() throws Exception {
        for (int n = 0; n < 8; n++) {
            added(n);
        }
        assertThat(run("find", "--like", unit(14))).isZero();
        assertThat(out.lines().skip(2).findFirst())
                .hasValueSatisfying(line -> assertThat(line).contains("Osprey"));
        assertThat(err).contains("a hint, not an identification");
        assertThat(run("find", "--like", unit(14), "--json", "--limit", "3")).isZero();
        assertThat(new ObjectMapper().readTree(out)).hasSize(3);
        assertThat(run("find", "wren", "--like", unit(14))).isEqualTo(2);
    }

    @Test
    void comparingTellsWhereAndDrawsAPicture() throws Exception {
        String a = added(1);
        String b = added(8);
        assertThat(run("compare", a, "library:" + b, "--picture", path("c.svg"), "--csv", path("c.csv")))
                .as(err)
                .isZero();
        assertThat(out).contains("Heron unit 8 against Heron unit 1:").contains("Benjamini and Hochberg");
        assertThat(folder.resolve("c.svg")).content().contains("Difference in %");
        assertThat(folder.resolve("c.csv")).content().startsWith("curve,frequency_hz,difference_percent");
        assertThat(run("compare", a, b, "--json", "--picture", path("c.png"), "--dark"))
                .isZero();
        assertThat(new ObjectMapper().readTree(out).get("differences")).hasSize(1);
        assertThat(run("compare", a)).isEqualTo(2);
        assertThat(run("compare", a, b, "--picture", path("c.pdf"))).isEqualTo(2);
        assertThat(err).contains(".svg or .png");
        assertThat(run("compare", a, "ffffffffffff")).isEqualTo(2);
    }

    @Test
    void aSpreadBecomesASpecification() throws Exception {
        for (int n = 1; n < 30; n += 7) {
            added(n);
        }
        assertThat(run("spread", "Heron", "--out", path("heron.yaml"), "--picture", path("s.png")))
                .as(err)
                .isZero();
        assertThat(out).contains("5 units");
        assertThat(run("add", path("heron.yaml"))).isZero();
        assertThat(out.strip()).isEqualTo("heron");
        assertThat(run("list", "--specifications")).isZero();
        assertThat(out.strip()).isEqualTo("heron");
        assertThat(run("show", "heron", "--specification")).isZero();
        assertThat(folder.resolve("heron.yaml")).hasContent(out);
        assertThat(run("spread", "Wren")).isEqualTo(2);
    }

    @Test
    void keepersLinkSupersedeRemoveBackUpAndVerify() throws Exception {
        String a = added(1);
        String b = added(2);
        assertThat(run("repaired", a, b, "--note", "new coil")).isZero();
        assertThat(run("supersede", a, b, "--reason", "wrong load")).isZero();
        assertThat(run("show", a)).isZero();
        assertThat(out).contains("superseded by " + b + ": wrong load").contains("after it " + b + ": new coil");
        assertThat(run("show", a, "--json")).isZero();
        assertThat(new ObjectMapper().readTree(out).get("curve").get("format").textValue())
                .isEqualTo("ohmprint-curve");
        assertThat(run("show", a, "--curve")).isZero();
        assertThat(folder.resolve("unit 1/curve.json")).content().isEqualTo(out);
        assertThat(run("backup", path("b.db"))).isZero();
        assertThat(run("remove", b)).isEqualTo(2);
        assertThat(run("remove", b, "--reason", "wrong one")).isZero();
        assertThat(run("verify")).isZero();
        assertThat(out).contains("1 measurements, no damage");
        assertThat(run("export", path("x.zip"))).isZero();
        assertThat(plain("library", "import", path("x.zip"), "--library", path("b.db")))
                .isZero();
        assertThat(out).startsWith("0 new, 1 known");
    }

    @Test
    void whatIsWrongIsToldWithTheNextStep() throws Exception {
        assertThat(run("list")).isEqualTo(2);
        assertThat(err).contains("there is no library").contains("library create");
        assertThat(run("create")).isZero();
        assertThat(run("list")).isZero();
        assertThat(run("add", path("none"))).isEqualTo(2);
        assertThat(run("add", path("none"), unit(1))).isEqualTo(2);
        assertThat(run("list", "--json")).isZero();
        assertThat(out.strip())
                .as("nothing is added when one of them cannot be read")
                .isEqualTo("[]");
        assertThat(run("list", "--since", "yesterday")).isEqualTo(2);
        assertThat(run("list", "--limit", "0")).isEqualTo(2);
        assertThat(plain("library")).isEqualTo(2);
        assertThat(plain("library", "list", "--library", "jdbc:postgresql://h/d?password=s3cret"))
                .isEqualTo(2);
        assertThat(err).contains("holds a password").doesNotContain("s3cret");
        for (Command command : new LibraryCommand().below()) {
            assertThat(plain("library", command.name(), "--help")).isZero();
            assertThat(out).contains("Example:").contains("Exit codes:");
        }
    }
}
