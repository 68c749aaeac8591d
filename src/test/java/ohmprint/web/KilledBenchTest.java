package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import ohmprint.NeedsPackage;
import ohmprint.audiofile.WavReader;
import ohmprint.loopback.Program;
import ohmprint.loopback.SimulatedBench;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Isolated;

/** The program of the page in a process of its own before a real sound server, killed and ended while it records. */
@Isolated("sound and a browser want the computer for themselves")
@NeedsPackage({"pulseaudio", "pulseaudio-utils", "libasound2-plugins"})
@Tag("sound")
class KilledBenchTest {
    private static final String COIL = "/api/sessions/coil";
    private static final double SOUND_SECONDS = 2;

    @TempDir
    Path dir;

    private Path workspace;
    private SimulatedBench bench;
    private Program program;
    private PageClient client;

    @BeforeEach
    void open() throws Exception {
        workspace = Files.createDirectories(dir.resolve("workspace"));
        bench = SimulatedBench.start(Files.createDirectories(dir.resolve("sound")), 150);
        start();
        client.good(
                "POST",
                "/api/sessions",
                "{\"name\": \"coil\", \"microphone\": {\"label\": \"Bench coil 4\", \"rated_impedance_ohm\": 200},"
                        + " \"input\": {\"resistance_ohm\": 3000, \"resistance_tolerance_percent\": 0.1,"
                        + " \"capacitance_pf\": 470}, \"loads\": {\"ohm\": [150, 1500], \"tolerance_percent\": 0.02,"
                        + " \"repeat_first\": false}}");
    }

    @AfterEach
    void close() throws Exception {
        program.close();
        bench.close();
    }

    private void start() throws IOException, InterruptedException {
        program = Program.ohmprint(
                bench.server().environment(), dir, "bench", "--workspace", workspace.toString(), "--no-open");
        String link = program.line();
        assertThat(link).as(program.errors()).matches("http://127\\.0\\.0\\.1:\\d+/open\\?token=[\\w-]{43}");
        client = PageClient.admitted(link);
    }

    private JsonNode told(String what) throws Exception {
        return client.good("POST", COIL + "/recorder", "{\"do\": \"" + what + "\"}");
    }

    private void openRecorder(String sound) throws Exception {
        client.good("POST", COIL + "/recorder", "{\"do\": \"open\"" + sound + "}");
        told("cautions-read");
    }

    private List<String> names() throws IOException {
        try (var files = Files.list(workspace.resolve("coil"))) {
            return files.map(f -> f.getFileName().toString()).sorted().toList();
        }
    }

    private double seconds(String file) throws IOException {
        try (WavReader wav = WavReader.open(workspace.resolve("coil").resolve(file))) {
            return wav.frames() / wav.sampleRate();
        }
    }

    @Test
    void aKillInTheMiddleOfATakeAndBeforeItsVerdictLosesNothing() throws Exception {
        String sound = ", \"sound\": {\"kind\": \"sweep\", \"seconds\": " + SOUND_SECONDS + "}";
        try (EventReader window = new EventReader(client.events("coil"))) {
            openRecorder(sound);
            told("level-accepted");
            told("record");
            window.next("level", l -> l.path("share").asDouble() > 0.5);
            program.kill();
            window.next("ended");
        }
        assertThat(names()).contains("take-1.unfinished.wav");

        start();
        JsonNode found = client.json(COIL);
        assertThat(found.path("unlisted").get(0).path("unfinished").asBoolean()).isTrue();
        assertThat(found.path("unlisted").get(0).path("seconds").asDouble()).isGreaterThan(1);
        try (EventReader window = new EventReader(client.events("coil"))) {
            openRecorder("");
            assertThat(window.next("note").path("message").asText()).contains("take-1.unusable-1.wav");
            assertThat(seconds("take-1.unusable-1.wav")).isGreaterThan(1);
            told("level-accepted");
            told("record");
            window.step("judge");
            program.kill();
        }

        start();
        try (EventReader window = new EventReader(client.events("coil"))) {
            openRecorder("");
            assertThat(names()).contains("take-1.unusable-1.wav", "take-1.unusable-2.wav");
            assertThat(seconds("take-1.unusable-2.wav")).isGreaterThan(SOUND_SECONDS + 1);
            told("level-accepted");
            for (double ohm : new double[] {150, 1500}) {
                bench.fit(ohm);
                told("record");
                window.next(
                        "session",
                        s -> s.path("recorder").path("take").path("load_ohm").asDouble() == ohm);
                told("keep");
            }
            JsonNode bands = window.next("curve").path("bands");
            int inside = 0;
            int measured = 0;
            for (int b = 0; b < bands.path("frequency_hz").size(); b++) {
                if (bands.path("status").get(b).asText().equals("measured")) {
                    double z = SimulatedBench.COIL
                            .impedance(bands.path("frequency_hz").get(b).asDouble())
                            .abs();
                    double u = bands.path("magnitude_u95_ohm").get(b).asDouble();
                    measured++;
                    inside += Math.abs(bands.path("magnitude_ohm").get(b).asDouble() - z) < 2 * u ? 1 : 0;
                }
            }
            assertThat(measured).isGreaterThan(60);
            assertThat(inside).isGreaterThan((int) (0.9 * measured));
        }
    }

    @Test
    void anOrderlyEndStopsTheSoundAndLeavesTheFilesWell() throws Exception {
        try (EventReader window = new EventReader(client.events("coil"))) {
            openRecorder(", \"sound\": {\"kind\": \"sweep\", \"seconds\": 60}");
            told("level-accepted");
            told("record");
            window.next("level", l -> l.path("share").asDouble() > 0.02);
            long before = System.nanoTime();

            program.interrupt();
            int code = program.ended();

            assertThat(code).isEqualTo(130);
            assertThat((System.nanoTime() - before) / 1e9).isLessThan(40);
        }
        assertThat(names()).contains("take-1.unusable-1.wav").noneMatch(n -> n.contains("unfinished"));
        assertThat(seconds("take-1.unusable-1.wav")).isGreaterThan(0.5);
        assertThat(program.errors()).doesNotContain("xception", "fault");
    }
}
