package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import javax.imageio.ImageIO;
import ohmprint.app.workspace.Workspace;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Names and links that lead out of the workspace. */
@Tag("slow")
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

    /** Deeper than any walk that stops somewhere, and behind a link that itself stays inside. */
    @ParameterizedTest
    @ValueSource(strings = {"a/b/c/d/e/f/g/h/i/j", "detour"})
    void aLinkIsFollowedToItsEndAtAnyDepth(String way) throws Exception {
        Files.copy(OpenPage.RIBBON.resolve("take-1.wav"), outside.resolve("secret.wav"));
        Path folder = workspace.resolve("ribbon").resolve(way);
        if (way.equals("detour")) {
            Files.createDirectories(workspace.resolve("other/within"));
            Files.createSymbolicLink(folder, workspace.resolve("other/within"));
        } else {
            Files.createDirectories(folder);
        }
        Files.createSymbolicLink(folder.resolve("out"), outside);
        Path manifest = workspace.resolve("ribbon/session.yaml");
        Files.writeString(manifest, Files.readString(manifest).replace("take-1.wav", way + "/out/secret.wav"));

        JsonNode seen = client.json("/api/sessions/ribbon");

        assertThat(seen.path("problem").asText()).contains("out in", "leads out of the workspace");
        assertThat(seen.path("takes")).isEmpty();
        assertThat(client.send("POST", "/api/sessions/ribbon/measure", "{}").error())
                .contains("leads out of the workspace");
        assertThat(client.send("POST", "/api/sessions/ribbon/recorder", "{\"do\": \"open\"}")
                        .error())
                .contains("leads out of the workspace");
    }

    /** The name stays in the folder as text; on the disk '..' counts from where the link points. */
    @Test
    void aNameThatLeavesByALinkAndTwoDotsIsNotFollowed() throws Exception {
        Files.copy(OpenPage.RIBBON.resolve("take-1.wav"), dir.resolve("secret.wav"));
        Files.createSymbolicLink(workspace.resolve("ribbon/top"), workspace);
        Path manifest = workspace.resolve("ribbon/session.yaml");
        Files.writeString(manifest, Files.readString(manifest).replace("take-1.wav", "top/../secret.wav"));

        assertThat(client.json("/api/sessions/ribbon").path("problem").asText()).contains("top/../secret.wav", "'..'");
        assertThat(client.send("POST", "/api/sessions/ribbon/measure", "{}").status())
                .isEqualTo(400);
    }

    @Test
    void inputsOfTheWorkshopComeFromTheWorkspaceAlone() throws Exception {
        client.good("POST", "/api/sessions/ribbon/measure", "{}");
        String question = "/api/inputs?curve=session:ribbon";
        Path secret = Files.writeString(
                outside.resolve("inputs.yaml"), "version: 1\ninputs:\n  - {name: Secret, resistance_ohm: 2400}\n");
        Path inputs = Files.createSymbolicLink(workspace.resolve("inputs.yaml"), secret);

        assertRefused(client.get(question));

        Files.delete(inputs);
        Files.writeString(outside.resolve("secret.csv"), "f_hz,re_ohm,im_ohm\n10,2000,0\n1000,2000,0\n40000,2000,0\n");
        Files.createSymbolicLink(workspace.resolve("linked.csv"), outside.resolve("secret.csv"));
        Files.writeString(inputs, "version: 1\ninputs:\n  - {name: Secret, curve: linked.csv}\n");

        assertRefused(client.get(question));

        Files.delete(inputs);
        Files.move(secret, inputs);
        assertThat(client.json(question).path("inputs").get(0).path("name").asText())
                .isEqualTo("Secret");
    }

    @ParameterizedTest
    @ValueSource(strings = {"link", "../outside/logo.png", "ABSOLUTE", "linked.png"})
    void whoHandsASheetOverComesFromTheWorkspaceAlone(String way) throws Exception {
        client.good("POST", "/api/sessions/ribbon/measure", "{}");
        Path logo = outside.resolve("logo.png");
        ImageIO.write(new BufferedImage(2, 2, BufferedImage.TYPE_INT_RGB), "png", logo.toFile());
        Files.createSymbolicLink(workspace.resolve("linked.png"), logo);
        Path workshop = workspace.resolve("workshop.yaml");
        String yaml = "version: 1\nname: Secret workshop\n";
        if (way.equals("link")) {
            Files.createSymbolicLink(workshop, Files.writeString(outside.resolve("workshop.yaml"), yaml));
        } else {
            Files.writeString(workshop, yaml + "logo: " + (way.equals("ABSOLUTE") ? logo : way) + "\n");
        }

        assertRefused(client.get("/api/report?curve=session:ribbon&form=html"));

        Files.deleteIfExists(workshop);
        Files.copy(logo, workspace.resolve("logo.png"));
        Files.writeString(workshop, yaml + "logo: logo.png\n");
        assertThat(client.get("/api/report?curve=session:ribbon&form=html").text())
                .contains("Secret workshop");
    }

    private static void assertRefused(PageClient.Answer answer) throws IOException {
        assertThat(answer.status()).as(answer.text()).isEqualTo(400);
        assertThat(answer.error()).contains("the workspace", "the page does not read it");
    }

    @Test
    void aLibraryThatIsALinkOutOfTheWorkspaceIsNotOpened() throws Exception {
        Path other = Files.createDirectories(dir.resolve("second"));
        Files.createSymbolicLink(other.resolve("library.db"), outside.resolve("library.db"));

        assertThatThrownBy(() -> Workspace.open(other, null))
                .hasMessageContaining("library.db is a link that leads out");
        Workspace.open(other, outside.resolve("library.db").toString()).close();
    }
}
