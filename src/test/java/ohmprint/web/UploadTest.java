package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.Socket;
import java.net.http.HttpRequest.BodyPublishers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.soundbench.SoundlessBench;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What is sent in: files that are none, too large, misnamed or half; bodies that cannot be understood; links that lead out. */
class UploadTest {
    private static final int MOST = 1 << 20;
    private static final String FILES = "/api/sessions/ribbon/files/";

    @TempDir
    Path dir;

    private Path workspace;
    private Path outside;
    private OpenPage page;
    private PageClient client;

    @BeforeEach
    void open() throws Exception {
        workspace = Files.createDirectories(dir.resolve("workspace"));
        outside = Files.createDirectories(dir.resolve("outside"));
        OpenPage.copied(OpenPage.RIBBON, workspace.resolve("ribbon"));
        page = OpenPage.of(workspace, SoundlessBench::new, new BenchPage(MOST));
        client = page.client();
    }

    @AfterEach
    void close() {
        page.close();
    }

    private List<String> everything() throws IOException {
        try (Stream<Path> all = Files.walk(dir)) {
            return all.map(p -> dir.relativize(p).toString()).sorted().toList();
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "..%2fx.wav",
                "%2e%2e%2fx.wav",
                "..%5cx.wav",
                "%2e%2e",
                "..;/x.wav",
                "%2fetc%2fx.wav",
                "a%00.wav",
                "a%0a.wav",
                ".hidden.wav",
                "%20.wav/../../x.wav",
                "x.sh",
                "recording.json",
                "take-1.wav.part",
                "result"
            })
    void aNameThatIsNoneIsRefusedAndNothingIsWritten(String name) throws Exception {
        List<String> before = everything();
        String head = "PUT " + FILES + name + " HTTP/1.1\r\nHost: 127.0.0.1:" + client.port() + "\r\nCookie: "
                + client.cookie() + "\r\nOrigin: " + client.base()
                + "\r\nContent-Type: application/octet-stream\r\nContent-Length: 4\r\nConnection: close\r\n\r\nRIFF";

        assertThat(sent(head)).matches("(?s)HTTP/1.1 4\\d\\d .*");
        assertThat(everything()).isEqualTo(before);
    }

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

    private String sent(String text) throws IOException {
        try (Socket socket = new Socket("127.0.0.1", client.port())) {
            socket.setSoTimeout(30_000);
            socket.getOutputStream().write(text.getBytes(StandardCharsets.ISO_8859_1));
            socket.getOutputStream().flush();
            return new String(socket.getInputStream().readAllBytes(), StandardCharsets.ISO_8859_1);
        }
    }

    @Test
    void aFileThatIsTooLargeIsRefusedAndLeavesNothingBehind() throws Exception {
        List<String> before = everything();
        byte[] large = new byte[MOST + 1];

        PageClient.Answer told = client.upload(FILES + "large.wav", BodyPublishers.ofByteArray(large));
        PageClient.Answer streamed =
                client.upload(FILES + "large.wav", BodyPublishers.ofInputStream(() -> new ByteArrayInputStream(large)));

        assertThat(told.status()).isEqualTo(413);
        assertThat(told.error()).contains("1 MB");
        assertThat(streamed.status()).isEqualTo(413);
        assertThat(everything()).isEqualTo(before);
        assertThat(client.send("PUT", "/api/sessions/ribbon/microphone", "\"" + "x".repeat(2 * MOST) + "\"")
                        .status())
                .isEqualTo(413);
    }

    @Test
    void anUploadThatBreaksOffLeavesNothingBehind() throws Exception {
        List<String> before = everything();
        try (Socket socket = new Socket("127.0.0.1", client.port())) {
            String head = "PUT " + FILES + "half.wav HTTP/1.1\r\nHost: 127.0.0.1:" + client.port() + "\r\nCookie: "
                    + client.cookie() + "\r\nOrigin: " + client.base()
                    + "\r\nContent-Type: application/octet-stream\r\nContent-Length: 100000\r\n\r\nRIFF";
            socket.getOutputStream().write(head.getBytes(StandardCharsets.ISO_8859_1));
            socket.getOutputStream().flush();
            Thread.sleep(300);
        }
        for (int i = 0; i < 50 && !everything().equals(before); i++) {
            Thread.sleep(100);
        }
        assertThat(everything()).isEqualTo(before);
    }

    @Test
    void whatAnEarlierEndLeftHalfIsTidiedAway() throws Exception {
        Path half = Files.writeString(workspace.resolve("ribbon/.upload-0b9c"), "half");
        page.close();

        page = OpenPage.of(workspace);

        assertThat(half).doesNotExist();
    }

    @Test
    void whatIsThereIsNeverOverwritten() throws Exception {
        byte[] before = Files.readAllBytes(workspace.resolve("ribbon/take-1.wav"));

        PageClient.Answer answer = client.upload(FILES + "take-1.wav", OpenPage.RIBBON.resolve("take-2.wav"));

        assertThat(answer.status()).isEqualTo(409);
        assertThat(answer.error()).contains("take-1.wav", "not overwritten");
        assertThat(workspace.resolve("ribbon/take-1.wav")).hasBinaryContent(before);
        assertThat(client.upload(FILES + "session.yaml", OpenPage.RIBBON.resolve("session.yaml"))
                        .status())
                .isEqualTo(409);
    }

    @Test
    void soundThatIsNoneIsRefusedWithWords() throws Exception {
        List<String> before = everything();
        byte[] whole = Files.readAllBytes(OpenPage.RIBBON.resolve("take-1.wav"));
        byte[] empty = Arrays.copyOf(whole, 44);
        for (byte[] bytes : List.of(
                new byte[0],
                "no sound".getBytes(StandardCharsets.UTF_8),
                Arrays.copyOf(whole, 30),
                Arrays.copyOfRange(whole, 100, 5000),
                empty)) {
            PageClient.Answer answer = client.upload(FILES + "odd.wav", BodyPublishers.ofByteArray(bytes));

            assertThat(answer.status()).as("%d bytes", bytes.length).isEqualTo(400);
            assertThat(answer.error()).contains("odd.wav").doesNotContain(".upload-", dir.toString());
        }
        assertThat(everything()).isEqualTo(before);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "null",
                "[]",
                "\"text\"",
                "{",
                "{\"label\": \"a\", \"label\": \"b\"}",
                "{\"label\": \"a\"} {}",
                "{\"label\": {}}",
                "{\"rated_impedance_ohm\": \"200\"}",
                "{\"rated_impedance_ohm\": -1}",
                "{\"rated_impedance_ohm\": 1e999}",
                "{\"nonsense\": 1}",
                "{\"label\": \"\"}",
                "{\"transducer\": \"spark\"}"
            })
    void aBodyThatCannotBeIsRefusedAndTheManifestStays(String body) throws Exception {
        String before = Files.readString(workspace.resolve("ribbon/session.yaml"));

        PageClient.Answer answer = client.send("PUT", "/api/sessions/ribbon/microphone", body);

        assertThat(answer.status()).as(answer.text()).isEqualTo(400);
        assertThat(answer.error()).isNotBlank().doesNotContain("com.fasterxml", "ohmprint.app", "\n");
        assertThat(workspace.resolve("ribbon/session.yaml")).hasContent(before);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{\"file\": \"../outside/x.wav\", \"load_ohm\": 220}",
                "{\"file\": \"/etc/passwd\", \"load_ohm\": 220}",
                "{\"file\": \"nix.wav\", \"load_ohm\": 220}",
                "{\"file\": \"take-1.wav\", \"load_ohm\": 220}",
                "{\"file\": \"stimulus.wav\"}",
                "{\"file\": \"stimulus.wav\", \"load_ohm\": 0}",
                "{\"file\": \"stimulus.wav\", \"load_ohm\": \"unknown\"}",
                "{\"file\": \"stimulus.wav\", \"load_ohm\": 220, \"channel\": 2}",
                "{\"file\": \"stimulus.wav\", \"load_ohm\": 220, \"channel\": 0}",
                "{\"file\": \"stimulus.wav\", \"load_ohm\": 220, \"time\": \"yesterday\"}"
            })
    void aTakeThatCannotBeIsRefused(String body) throws Exception {
        String before = Files.readString(workspace.resolve("ribbon/session.yaml"));

        PageClient.Answer answer = client.send("POST", "/api/sessions/ribbon/takes", body);

        assertThat(answer.status()).as(answer.text()).isIn(400, 404);
        assertThat(workspace.resolve("ribbon/session.yaml")).hasContent(before);
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
