package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Names and links that lead out of the workspace. */
class WaysOutTest extends RibbonAndOutside {
    @ParameterizedTest
    @ValueSource(
            strings = {
                "..%2foutside",
                "%2e%2e%2foutside",
                "..",
                "%2e%2e",
                ".",
                "..%5coutside",
                ".hidden",
                "a%00b",
                "ribbon%2fresult",
                "nix"
            })
    void aSessionElsewhereIsNotThere(String name) throws Exception {
        Files.createDirectories(workspace.resolve(".hidden"));
        OpenPage.copied(OpenPage.RIBBON, outside.resolve("session"));
        for (String path :
                List.of("", "/curve", "/takes/take-1.wav/inspection", "/lines", "/audition?take=take-1.wav")) {
            String answer = client.raw(
                    "GET /api/sessions/" + name + path + " HTTP/1.1",
                    "Host: 127.0.0.1:" + client.port(),
                    "Cookie: " + client.cookie());
            assertThat(answer)
                    .as(path)
                    .matches("(?s)HTTP/1.1 40[04] .*")
                    .doesNotContain("Bench ribbon", "take-1.wav\"");
        }
    }

    @Test
    void aLinkThatLeadsOutOfTheWorkspaceIsNotRead() throws Exception {
        Path secret = Files.copy(OpenPage.RIBBON.resolve("take-1.wav"), outside.resolve("secret.wav"));
        Path take = workspace.resolve("ribbon/take-1.wav");
        Files.delete(take);
        Files.createSymbolicLink(take, secret);

        JsonNode seen = client.json("/api/sessions/ribbon");

        assertThat(seen.path("problem").asText()).contains("take-1.wav", "leads out of the workspace");
        assertThat(seen.path("takes")).isEmpty();
        assertThat(client.send("POST", "/api/sessions/ribbon/measure", "{}").error())
                .contains("leads out of the workspace");
        assertThat(client.get("/api/sessions/ribbon/takes/take-1.wav/inspection")
                        .error())
                .contains("leads out");
        assertThat(client.get("/api/sessions/ribbon/audition?take=take-1.wav&load_ohm=1000")
                        .status())
                .isIn(400, 404, 409);
        assertThat(client.send("PUT", "/api/sessions/ribbon/microphone", "{\"maker\": \"x\"}")
                        .status())
                .isEqualTo(409);
    }

    @Test
    void aSessionOrResultThatIsALinkOutOfTheWorkspaceIsNotRead() throws Exception {
        Path real = OpenPage.copied(OpenPage.RIBBON, outside.resolve("real"));
        Files.createSymbolicLink(workspace.resolve("linked"), real);
        client.good("POST", "/api/sessions/ribbon/measure", "{}");
        Files.move(workspace.resolve("ribbon/result"), outside.resolve("result"));
        Files.createSymbolicLink(workspace.resolve("ribbon/result"), outside.resolve("result"));

        assertThat(client.json("/api/workspace").path("sessions")).hasSize(1);
        assertThat(client.get("/api/sessions/linked").status()).isEqualTo(404);
        assertThat(client.get("/api/sessions/ribbon/curve").status()).isEqualTo(404);
        assertThat(client.get("/api/curves/session:ribbon").status()).isEqualTo(404);
        assertThat(client.send("POST", "/api/sessions/ribbon/measure", "{}").status())
                .isEqualTo(400);
    }

    @ParameterizedTest
    @ValueSource(strings = {"../../outside/secret.wav", "SECRET", "../secret.wav"})
    void aManifestThatNamesFilesElsewhereIsNotFollowed(String named) throws Exception {
        Path secret = Files.copy(OpenPage.RIBBON.resolve("take-1.wav"), outside.resolve("secret.wav"));
        Path manifest = workspace.resolve("ribbon/session.yaml");
        String file = named.equals("SECRET") ? secret.toAbsolutePath().toString() : named;
        Files.writeString(manifest, Files.readString(manifest).replace("take-1.wav", file));

        JsonNode seen = client.json("/api/sessions/ribbon");

        assertThat(seen.path("problem").asText()).contains("outside the folder of this manifest");
        assertThat(client.send("POST", "/api/sessions/ribbon/measure", "{}").status())
                .isEqualTo(400);
        String encoded = java.net.URLEncoder.encode(file, StandardCharsets.UTF_8);
        assertThat(client.get("/api/sessions/ribbon/audition?load_ohm=1000&take=" + encoded)
                        .status())
                .isIn(400, 404);
        String inspection = client.raw(
                "GET /api/sessions/ribbon/takes/" + encoded + "/inspection HTTP/1.1",
                "Host: 127.0.0.1:" + client.port(),
                "Cookie: " + client.cookie());
        assertThat(inspection).matches("(?s)HTTP/1.1 40[04] .*");
    }
}
