package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import ohmprint.loopback.SoundlessBench;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;

/** A session of a coil, to be recorded through the page on a bench that exists only in numbers. */
abstract class CoilBeforeThePage {
    static final String COIL = "/api/sessions/coil";
    static final String OPEN =
            "{\"do\": \"open\", \"bench\": {\"channel\": 1}, \"sound\": {\"kind\": \"sweep\", \"seconds\": 1,"
                    + " \"peak_dbfs\": -18}}";

    @TempDir
    Path dir;

    final SoundlessBench bench = new SoundlessBench();
    OpenPage page;
    PageClient client;

    @BeforeEach
    void open() throws Exception {
        page = OpenPage.of(dir, () -> bench, new BenchPage());
        client = page.client();
        client.good(
                "POST",
                "/api/sessions",
                "{\"name\": \"coil\", \"microphone\": {\"label\": \"Bench coil 4\", \"rated_impedance_ohm\": 200},"
                        + " \"input\": {\"resistance_ohm\": 3000, \"resistance_tolerance_percent\": 0.1,"
                        + " \"capacitance_pf\": 470}, \"loads\": {\"ohm\": [150, 1500], \"tolerance_percent\": 0.02,"
                        + " \"repeat_first\": true}}");
    }

    @AfterEach
    void close() {
        page.close();
    }

    PageClient.Answer tell(String what) throws Exception {
        return client.send("POST", COIL + "/recorder", "{\"do\": \"" + what + "\"}");
    }

    JsonNode told(String what) throws Exception {
        PageClient.Answer answer = tell(what);
        assertThat(answer.status()).as(answer.text()).isIn(200, 202);
        return answer.json().path("recorder");
    }

    EventReader window() throws Exception {
        return new EventReader(client.events("coil"));
    }

    /** Up to the first take. */
    void ready() throws Exception {
        client.good("POST", COIL + "/recorder", OPEN);
        told("cautions-read");
        told("level-accepted");
    }

    JsonNode recorded(EventReader window, double ohm) throws Exception {
        bench.ohm = ohm;
        told("record");
        return window.next("session", s -> {
            JsonNode recorder = s.path("recorder");
            return recorder.path("step").asText().equals("judge")
                    && recorder.path("take").path("load_ohm").asDouble() == ohm;
        });
    }

    List<String> names() throws Exception {
        try (var files = Files.list(dir.resolve("coil"))) {
            return files.map(f -> f.getFileName().toString()).sorted().toList();
        }
    }
}
