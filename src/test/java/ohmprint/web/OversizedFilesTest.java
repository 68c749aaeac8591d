package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.Javalin;
import java.io.RandomAccessFile;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Files that are too large or broken are named; they take neither the workspace nor the answer with them. */
@Tag("slow")
class OversizedFilesTest {
    @TempDir
    Path dir;

    @Test
    void aWorkspaceWithBrokenAndOversizedCurvesStillShowsAllSessions() throws Exception {
        for (String name : new String[] {"broken", "healthy", "huge"}) {
            Path session =
                    Files.createDirectories(dir.resolve(name).resolve("result")).getParent();
            Files.copy(OpenPage.RIBBON.resolve("session.yaml"), session.resolve("session.yaml"));
            for (int take = 1; take <= 3; take++) {
                Files.copy(OpenPage.RIBBON.resolve("take-" + take + ".wav"), session.resolve("take-" + take + ".wav"));
            }
            Files.copy(OpenPage.RIBBON.resolve("stimulus.wav"), session.resolve("stimulus.wav"));
        }
        Files.copy(Path.of("fixtures/check/healthy.json"), dir.resolve("healthy/result/curve.json"));
        Files.writeString(dir.resolve("broken/result/curve.json"), "{\"format\": ");
        try (RandomAccessFile hole =
                new RandomAccessFile(dir.resolve("huge/result/curve.json").toFile(), "rw")) {
            hole.setLength(400_000_000);
        }
        try (OpenPage page = OpenPage.of(dir)) {
            PageClient client = page.client();
            Map<String, JsonNode> seen = new HashMap<>();
            client.json("/api/workspace")
                    .path("sessions")
                    .forEach(s -> seen.put(s.path("name").asText(), s));
            assertThat(seen).containsOnlyKeys("broken", "healthy", "huge");
            assertThat(seen.get("healthy").path("has_curve").asBoolean()).isTrue();
            assertThat(seen.get("healthy").path("problem").isNull()).isTrue();
            assertThat(seen.get("huge").path("has_curve").asBoolean()).isFalse();
            assertThat(seen.get("huge").path("problem").asText()).contains("curve.json: is 400000000 bytes long");
            assertThat(seen.get("broken").path("problem").asText()).contains("curve.json");
            assertThat(client.get("/api/sessions/huge/curve").status()).isEqualTo(400);
            assertThat(client.get("/api/sessions/broken/curve").status()).isEqualTo(400);
        }
    }

    /** An error of the virtual machine is no exception; the server would answer it by a status and nothing more. */
    @Test
    void whenMemoryRunsOutTheAnswerSaysSo() throws Exception {
        Javalin server = Javalin.create(config -> {
            config.startup.showJavalinBanner = false;
            Answers.errors(config.router);
            config.routes.get("/greedy", context -> {
                throw new OutOfMemoryError("thrown by this test");
            });
        });
        server.start("127.0.0.1", 0);
        try {
            HttpResponse<String> answer = HttpClient.newHttpClient()
                    .send(
                            HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + server.port() + "/greedy"))
                                    .build(),
                            HttpResponse.BodyHandlers.ofString());
            assertThat(answer.statusCode()).isEqualTo(500);
            assertThat(answer.body()).contains("\"error\"", "memory ran out", "OHMPRINT_JAVA_OPTS");
        } finally {
            server.stop();
        }
    }
}
