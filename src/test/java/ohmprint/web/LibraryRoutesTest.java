package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.http.HttpRequest.BodyPublishers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.HexFormat;
import ohmprint.library.InventedUnits;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

@Tag("slow")
class LibraryRoutesTest {
    @TempDir
    Path folder;

    private Workshop bench;

    @BeforeEach
    void open() throws Exception {
        bench = Workshop.in(Files.createDirectory(folder.resolve("workshop")));
    }

    @AfterEach
    void close() {
        bench.close();
    }

    private String kept(int unit) throws Exception {
        String ref = Workshop.measured(bench.folder(), "unit-" + unit, InventedUnits.unit(unit));
        return bench.post("/api/library", "{'curve':'" + ref + "','operator':'Ada Quill','notes':'spring'}")
                .get("id")
                .asText();
    }

    @Test
    void aResultIsKeptOnceAndShownAsItsFileSays() throws Exception {
        String id = kept(4);
        JsonNode again = bench.post("/api/library", "{'curve':'session:unit-4','operator':'Ada Quill'}");
        JsonNode shown = bench.get("/api/library/" + id);
        byte[] file = Files.readAllBytes(bench.folder().resolve("unit-4/result/curve.json"));
        JsonNode first = new ObjectMapper().readTree(file).get("bands").get(3);

        assertThat(again.get("new").asBoolean()).isFalse();
        // Source: the identifier is the beginning of the SHA-256 of the file, here by the library of Java.
        assertThat(id)
                .isEqualTo(HexFormat.of()
                        .formatHex(MessageDigest.getInstance("SHA-256").digest(file))
                        .substring(0, 12));
        assertThat(shown.at("/entry/operator").asText()).isEqualTo("Ada Quill");
        assertThat(shown.at("/entry/note").asText()).isEqualTo("spring");
        assertThat(shown.at("/curve/ref").asText()).isEqualTo("library:" + id);
        assertThat(shown.at("/curve/bands/frequency_hz/3").asDouble())
                .isEqualTo(first.get("frequency_hz").asDouble());
        assertThat(shown.at("/curve/bands/magnitude_ohm/3").asDouble())
                .isEqualTo(first.get("magnitude_ohm").asDouble());
    }

    @Test
    void theSearchCountsAllAndShowsAsManyAsAskedFor() throws Exception {
        for (int unit = 0; unit < 4; unit++) {
            kept(unit);
        }
        JsonNode ribbons = bench.get("/api/library?transducer=ribbon&limit=1");
        JsonNode words = bench.get("/api/library?text=plover%20ada");

        assertThat(ribbons.get("total").asInt()).isEqualTo(2);
        assertThat(ribbons.get("entries")).hasSize(1);
        assertThat(words.get("entries")).hasSize(1);
        assertThat(words.at("/entries/0/model").asText()).isEqualTo("Plover");
        assertThat(bench.refused(400, "GET", "/api/library?limit=all", null)).contains("'all'", "1 to 1000");
        assertThat(bench.refused(400, "GET", "/api/library?since=spring", null)).contains("'spring'", "2026-03-01");
    }

    @Test
    void linksAndRemovalsLeaveTheirWords() throws Exception {
        String old = kept(1);
        String fresh = kept(8);
        bench.post(
                "/api/library/" + old + "/supersede",
                "{'by_id':'" + fresh + "','reason':'longer sweep','operator':'Ben Marsh'}");
        bench.post("/api/library/" + old + "/repaired", "{'after_id':'" + fresh + "','note':'new coil'}");
        JsonNode shown = bench.get("/api/library/" + old);
        bench.post("/api/library/" + fresh + "/remove", "{'reason':'another unit','operator':'Ben Marsh'}");

        assertThat(shown.at("/entry/superseded_by").asText()).isEqualTo(fresh);
        assertThat(shown.get("links")).hasSize(2);
        assertThat(shown.get("links").toString()).contains("longer sweep", "Ben Marsh", "new coil");
        assertThat(bench.refused(400, "GET", "/api/library/" + fresh, null)).contains(fresh);
        assertThat(bench.refused(400, "GET", "/api/curves/library:" + fresh, null))
                .contains(fresh);
        assertThat(bench.refused(400, "POST", "/api/library", "{'curve':'session:unit-8'}"))
                .contains("another unit");
        assertThat(bench.post("/api/library", "{'curve':'session:unit-8','again':true}")
                        .get("new")
                        .asBoolean())
                .isTrue();
        assertThat(bench.refused(400, "POST", "/api/library/" + old + "/remove", "{'reason':' '}"))
                .contains("a reason");
    }

    @Test
    void aBundleGoesToAnotherWorkshop() throws Exception {
        String id = kept(2);
        PageClient.Answer bundle = bench.client().get("/api/library/bundle?ids=" + id);
        try (Workshop other = Workshop.in(Files.createDirectory(folder.resolve("other")))) {
            String into = "/api/library/bundle";
            PageClient.Answer first = other.client()
                    .upload(into, BodyPublishers.ofByteArray(bundle.response().body()));
            byte[] damaged = bundle.response().body().clone();
            damaged[damaged.length / 2] ^= 1;
            PageClient.Answer refused = other.client().upload(into, BodyPublishers.ofByteArray(damaged));

            assertThat(bundle.header("Content-Disposition")).isEqualTo("attachment; filename=\"curves.zip\"");
            assertThat(first.text()).contains("\"added\":[\"" + id + "\"]");
            assertThat(other.get("/api/library").get("total").asInt()).isEqualTo(1);
            assertThat(refused.status()).isEqualTo(400);
            assertThat(refused.text()).contains("bundle.zip").doesNotContain("ohmprint-");
        }
        assertThat(bench.refused(400, "GET", "/api/library/bundle?ids=,", null)).contains("choose one or more");
    }

    @Test
    void onlySpecificationsThatACheckUnderstandsAreKept() throws Exception {
        String wrong = "{'yaml':'version: 1\\nmask:\\n  - {from_hz: 20}\\n'}";
        assertThat(bench.refused(400, "PUT", "/api/specifications/Heron", wrong))
                .contains("to_hz");
        String yaml = "version: 1\\nrated_impedance: {ohm: 300, tolerance_percent: 20}\\n";
        PageClient.Answer put = bench.client()
                .send(
                        "PUT",
                        "/api/specifications/Heron%20300",
                        "{\"yaml\":\"" + yaml + "\",\"operator\":\"Ada Quill\"}");

        assertThat(put.status()).isEqualTo(200);
        assertThat(bench.get("/api/specifications").at("/names/0").asText()).isEqualTo("Heron 300");
        assertThat(bench.get("/api/specifications/Heron%20300").get("yaml").asText())
                .isEqualTo(yaml.replace("\\n", "\n"));
        assertThat(bench.get("/api/library/health").get("problems")).isEmpty();
    }
}
