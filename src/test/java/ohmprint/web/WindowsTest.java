package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.Socket;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Several windows and several sessions at once. */
@Tag("slow")
class WindowsTest {
    @TempDir
    Path dir;

    private OpenPage page;
    private PageClient client;

    @BeforeEach
    void open() throws Exception {
        OpenPage.copied(OpenPage.RIBBON, dir.resolve("one"));
        OpenPage.copied(OpenPage.RIBBON, dir.resolve("two"));
        page = OpenPage.of(dir);
        client = page.client();
    }

    @AfterEach
    void close() {
        page.close();
    }

    private static List<PageClient.Answer> atOnce(List<Callable<PageClient.Answer>> questions) throws Exception {
        ExecutorService windows = Executors.newFixedThreadPool(questions.size());
        try {
            List<PageClient.Answer> answers = new ArrayList<>();
            for (Future<PageClient.Answer> answer : windows.invokeAll(questions)) {
                answers.add(answer.get());
            }
            return answers;
        } finally {
            windows.shutdownNow();
        }
    }

    @Test
    void changesOfManyWindowsAllArrive() throws Exception {
        List<Callable<PageClient.Answer>> changes = new ArrayList<>();
        for (int i = 0; i < 4; i++) {
            int n = i;
            changes.add(() -> client.send(
                    "PUT", "/api/sessions/one/takes/take-1.wav", "{\"load_tolerance_percent\": " + (n + 1) + "}"));
            changes.add(() -> client.send("PUT", "/api/sessions/one/takes/take-2.wav", "{\"note\": \"n" + n + "\"}"));
            changes.add(() -> client.send("PUT", "/api/sessions/one/microphone", "{\"serial\": \"" + n + "\"}"));
            changes.add(() -> client.send("PUT", "/api/sessions/one/input", "{\"capacitance_pf\": " + n + "}"));
        }

        List<PageClient.Answer> answers = atOnce(changes);

        assertThat(answers).allSatisfy(a -> assertThat(a.status()).isEqualTo(200));
        assertThat(answers.stream().map(WindowsTest::revision).distinct()).hasSize(answers.size());
        JsonNode last = client.json("/api/sessions/one");
        assertThat(last.path("problem").isNull()).isTrue();
        assertThat(last.path("takes").get(0).path("load_tolerance_percent").asDouble())
                .isBetween(1.0, 4.0);
        assertThat(last.path("takes").get(1).path("note").asText()).matches("n[0-3]");
        assertThat(last.path("microphone").path("serial").asText()).matches("[0-3]");
    }

    private static long revision(PageClient.Answer answer) {
        try {
            return answer.json().path("revision").asLong();
        } catch (java.io.IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    @Test
    void twoSessionsAreMeasuredAtOnceAndOneTwice() throws Exception {
        List<PageClient.Answer> answers = atOnce(List.of(
                () -> client.send("POST", "/api/sessions/one/measure", "{}"),
                () -> client.send("POST", "/api/sessions/two/measure", "{}"),
                () -> client.send("POST", "/api/sessions/one/measure", "{}")));

        assertThat(answers).allSatisfy(a -> assertThat(a.status()).isEqualTo(200));
        assertThat(answers.get(0).json().path("bands"))
                .isEqualTo(answers.get(1).json().path("bands"))
                .isEqualTo(answers.get(2).json().path("bands"));
        assertThat(client.json("/api/workspace").path("sessions")).hasSize(2);
    }

    @Test
    void twoFilesOfOneNameMeetAndOneIsRefused() throws Exception {
        List<Callable<PageClient.Answer>> uploads = new ArrayList<>();
        for (int i = 0; i < 6; i++) {
            uploads.add(() -> client.upload("/api/sessions/one/files/new.wav", OpenPage.RIBBON.resolve("take-1.wav")));
        }

        List<Integer> answers =
                atOnce(uploads).stream().map(PageClient.Answer::status).sorted().toList();

        assertThat(answers).containsExactly(200, 409, 409, 409, 409, 409);
        assertThat(dir.resolve("one/new.wav")).hasSameBinaryContentAs(OpenPage.RIBBON.resolve("take-1.wav"));
    }

    @Test
    void sessionsOfOneLabelBegunAtOnceGetFoldersOfTheirOwn() throws Exception {
        List<Callable<PageClient.Answer>> begun = new ArrayList<>();
        for (int i = 0; i < 5; i++) {
            begun.add(() -> client.send("POST", "/api/sessions", "{\"microphone\": {\"label\": \"Same\"}}"));
        }

        List<PageClient.Answer> answers = atOnce(begun);

        assertThat(answers).allSatisfy(a -> assertThat(a.status()).isEqualTo(200));
        assertThat(client.json("/api/workspace").path("sessions")).hasSize(2 + answers.size());
    }

    @Test
    void bothWindowsHearOfAChangeAndOneThatComesBackGetsTheStateAnew() throws Exception {
        try (EventReader one = new EventReader(client.events("one"));
                EventReader two = new EventReader(client.events("one"))) {
            one.next("session");
            two.next("session");

            client.good("PUT", "/api/sessions/one/microphone", "{\"maker\": \"Hollow Oak\"}");

            assertThat(one.next("session").path("microphone").path("maker").asText())
                    .isEqualTo("Hollow Oak");
            assertThat(two.next("session").path("microphone").path("maker").asText())
                    .isEqualTo("Hollow Oak");
        }
        client.good("POST", "/api/sessions/one/measure", "{}");
        try (EventReader again = new EventReader(client.events("one"))) {
            assertThat(again.next("session").path("has_curve").asBoolean()).isTrue();
            assertThat(again.next("curve").path("label").asText()).isEqualTo("Bench ribbon 9");
        }
    }

    @Test
    void measuringIsHeardAsItGoesOn() throws Exception {
        try (EventReader window = new EventReader(client.events("two"))) {
            window.next("session");

            client.good("POST", "/api/sessions/two/measure", "{}");

            assertThat(window.next("measuring").path("doing").asText()).isNotEmpty();
            assertThat(window.next("session", s -> s.path("has_curve").asBoolean())
                            .path("curve_outdated")
                            .asBoolean())
                    .isFalse();
            window.next("curve");
        }
    }

    /** A window whose computer sleeps takes nothing; the others must not wait for it. */
    @Test
    void aWindowThatReadsNothingHoldsNobodyUp() throws Exception {
        try (Socket asleep = client.asleep("one");
                EventReader awake = new EventReader(client.events("one"))) {
            assertThat(asleep.isConnected()).isTrue();
            client.good("POST", "/api/sessions/one/measure", "{}");
            awake.next("curve");
            // Five megabytes, more than the server's buffer takes: a manifest with long notes, many times.
            String words = "x".repeat(10_000);
            for (String take : List.of("take-1.wav", "take-2.wav", "take-3.wav")) {
                client.good("PUT", "/api/sessions/one/takes/" + take, "{\"note\": \"" + words + "\"}");
            }
            for (int i = 0; i < 120; i++) {
                client.good("PUT", "/api/sessions/one/microphone", "{\"serial\": \"" + i + "\"}");
            }

            awake.next(
                    "session", s -> s.path("microphone").path("serial").asText().equals("119"));
        }
    }
}
