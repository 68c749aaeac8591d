package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.Socket;
import java.net.http.HttpRequest.BodyPublishers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Files that are sent in: such as are none, too large, misnamed or half. */
@Tag("slow")
class UploadTest extends RibbonAndOutside {
    private static final int PIECE = 1 << 16;

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
        assertThat(sent(head(name, 4) + "RIFF")).matches("(?s)HTTP/1.1 4\\d\\d .*");
        assertThat(everything()).isEqualTo(before);
    }

    private String head(String name, int bytes) {
        return "PUT " + FILES + name + " HTTP/1.1\r\nHost: 127.0.0.1:" + client.port() + "\r\nCookie: "
                + client.cookie()
                + "\r\nOrigin: " + client.base() + "\r\nContent-Type: application/octet-stream\r\nContent-Length: "
                + bytes
                + "\r\nConnection: close\r\n\r\n";
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

    @ParameterizedTest
    @CsvSource({"large.wav,8,413", "take-1.wav,1,409", "x.sh,1,400"})
    void whoSendsEverythingBeforeListeningHearsWhyItIsRefused(String name, int times, int status) throws Exception {
        byte[] large = new byte[times * MOST];
        try (Socket socket = new Socket("127.0.0.1", client.port())) {
            socket.setSoTimeout(30_000);
            socket.getOutputStream().write(head(name, large.length).getBytes(StandardCharsets.ISO_8859_1));
            for (int at = 0; at < large.length; at += PIECE) {
                socket.getOutputStream().write(large, at, PIECE);
                Thread.sleep(5);
            }

            assertThat(new String(socket.getInputStream().readAllBytes(), StandardCharsets.ISO_8859_1))
                    .startsWith("HTTP/1.1 " + status + " ")
                    .contains("\"error\":");
        }
    }

    @Test
    void whoAsksWhetherToSendAtAllIsToldAtOnce() throws Exception {
        String head = head("large.wav", 8 * MOST).replace("\r\n\r\n", "\r\nExpect: 100-continue\r\n\r\n");

        assertThat(sent(head)).startsWith("HTTP/1.1 413 ").contains("1 MB");
    }

    @Test
    void anUploadThatBreaksOffLeavesNothingBehind() throws Exception {
        List<String> before = everything();
        try (Socket socket = new Socket("127.0.0.1", client.port())) {
            socket.getOutputStream().write((head("half.wav", 100_000) + "RIFF").getBytes(StandardCharsets.ISO_8859_1));
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
}
