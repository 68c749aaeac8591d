package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Bodies that do not come. Each is begun on a socket and then left, so that nothing but the page can end it; more are begun
 * than the page has threads. The limits of time are small here; the rule is the same.
 */
@Tag("slow")
class SlowBodiesTest extends RibbonAndOutside {
    /** More than the threads of the server. */
    private static final int MANY = 100;

    private static final int HANG_MS = 20_000;
    private static final Duration PAUSE = Duration.ofMillis(1500);

    private final List<Socket> begun = new ArrayList<>();

    @AfterEach
    void leave() throws IOException {
        for (Socket socket : begun) {
            socket.close();
        }
    }

    @Override
    BenchPage door() {
        return new BenchPage(MOST, new Arrivals.Patience(PAUSE, PAUSE.multipliedBy(2), 1000));
    }

    /** Sends the head of a request and a little of its body. */
    private Socket begin(String line, String type, String more, String body) throws IOException {
        Socket socket = new Socket("127.0.0.1", client.port());
        begun.add(socket);
        socket.setSoTimeout(HANG_MS);
        String head = line + " HTTP/1.1\r\nHost: 127.0.0.1:" + client.port() + "\r\nCookie: " + client.cookie()
                + "\r\nOrigin: " + client.base() + "\r\n" + (type.isEmpty() ? "" : "Content-Type: " + type + "\r\n")
                + more + "\r\n\r\n" + body;
        socket.getOutputStream().write(head.getBytes(StandardCharsets.ISO_8859_1));
        socket.getOutputStream().flush();
        return socket;
    }

    private static String answer(Socket socket) throws IOException {
        return new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    }

    private void assertAnswered() throws Exception {
        assertThat(client.get("/api/limits").status()).isEqualTo(200);
        assertThat(client.send("PUT", "/api/sessions/ribbon/microphone", "{\"label\": \"answered\"}")
                        .status())
                .isEqualTo(200);
    }

    @Test
    void manyStalledUploadsLeaveThePageAnswering() throws Exception {
        for (int k = 0; k < MANY; k++) {
            begin(
                    "PUT " + FILES + "stalled-" + k + ".wav",
                    "application/octet-stream",
                    "Content-Length: 100000",
                    "RIFF");
        }
        assertAnswered();

        int slow = 0;
        int turnedAway = 0;
        for (Socket socket : begun) {
            String answer = answer(socket);
            slow += answer.startsWith("HTTP/1.1 408 ") ? 1 : 0;
            turnedAway += answer.startsWith("HTTP/1.1 503 ") ? 1 : 0;
            assertThat(answer).contains("\"error\":");
        }
        assertThat(slow).isEqualTo(Arrivals.UPLOADS);
        assertThat(turnedAway).isEqualTo(MANY - Arrivals.UPLOADS);
        assertThat(everything()).noneMatch(name -> name.contains("stalled") || name.contains(".upload-"));
    }

    @Test
    void manySlowSmallBodiesLeaveThePageAnsweringAndEndInTime() throws Exception {
        for (int k = 0; k < MANY; k++) {
            begin("PUT /api/sessions/ribbon/microphone", "application/json", "Content-Length: 100", "{\"label\":");
        }
        assertAnswered();

        for (Socket socket : begun) {
            assertThat(answer(socket)).startsWith("HTTP/1.1 408 ").contains("\"error\":\"", "send it again");
        }
    }

    /** A byte now and then is never a pause, so only the rate or the whole time can end it. */
    @Test
    void aBodyThatDripsIsEnded() throws Exception {
        for (String type : List.of("application/json", "application/octet-stream")) {
            String line = type.endsWith("json") ? "PUT /api/sessions/ribbon/microphone" : "PUT " + FILES + "drips.wav";
            Socket socket = begin(line, type, "Content-Length: 100000", "");
            long end = System.nanoTime() + Duration.ofMillis(HANG_MS).toNanos();
            OutputStream out = socket.getOutputStream();
            boolean ended = false;
            while (!ended && System.nanoTime() < end) {
                try {
                    out.write(' ');
                    out.flush();
                    Thread.sleep(PAUSE.toMillis() / 5);
                    ended = socket.getInputStream().available() > 0;
                } catch (IOException gone) {
                    ended = true;
                }
            }
            assertThat(ended).as(type).isTrue();
        }
        assertThat(everything()).noneMatch(name -> name.contains("drips") || name.contains(".upload-"));
    }

    /** What no address wants is not waited for: neither a body of a reading request nor that of one that is refused. */
    @Test
    void bodiesThatNobodyWantsHoldNothingUp() throws Exception {
        for (int k = 0; k < MANY; k++) {
            begin("GET /api/nothing", "", "Content-Length: 10", "");
            begin("DELETE /api/sessions/ribbon/takes/nothing.wav", "", "Transfer-Encoding: chunked", "");
            begin("POST /api/nothing", "application/json", "Content-Length: 10", "");
        }
        assertAnswered();
    }

    @Test
    void aFileThatComesSlowlyButSteadilyIsTakenIn() throws Exception {
        byte[] take = Files.readAllBytes(workspace.resolve("ribbon/take-1.wav"));
        Socket socket = begin(
                "PUT " + FILES + "steady.wav",
                "application/octet-stream",
                "Connection: close\r\nContent-Length: " + take.length,
                "");
        int pieces = 8;
        for (int k = 0; k < pieces; k++) {
            int from = (int) ((long) take.length * k / pieces);
            int to = (int) ((long) take.length * (k + 1) / pieces);
            socket.getOutputStream().write(take, from, to - from);
            socket.getOutputStream().flush();
            Thread.sleep(PAUSE.toMillis() / 3);
        }

        assertThat(answer(socket)).startsWith("HTTP/1.1 200 ");
        assertThat(workspace.resolve("ribbon/steady.wav")).hasBinaryContent(take);
    }

    @Test
    void uploadsThatEndMakeRoomForOthers() throws Exception {
        for (int k = 0; k < 3 * Arrivals.UPLOADS; k++) {
            assertThat(client.upload(FILES + "room-" + k + ".wav", workspace.resolve("ribbon/take-1.wav"))
                            .status())
                    .isEqualTo(200);
        }
    }
}
