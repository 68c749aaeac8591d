package ohmprint.loopback;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.NeedsPackage;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Isolated;

/**
 * What is left of a recording through a real sound server when the microphone is mute, the program or the server
 * dies, or the disk is full.
 */
@org.junit.jupiter.api.Tag("sound")
@Isolated("a computer busy with other tests loses pieces of the sound")
@NeedsPackage({"pulseaudio", "pulseaudio-utils", "libasound2-plugins"})
@Tag("sound")
class BenchFailureTest extends RecordingProgram {
    /** Half a second without samples counts as lost; the rest is for processes that wait for a busy computer. */
    private static final double NOTICED_SECONDS = 6;

    @Test
    void aMuteMicrophoneAndADeadServerEndInWordsAndWhatIsRecordedStays() throws Exception {
        try (SimulatedBench bench = SimulatedBench.start(dir.resolve("server"), 1500)) {
            Path session = dir.resolve("session");
            try (Program record = record(bench, "150,1500")) {
                record.event("fit");
                bench.gain(0);
                record.send("");
                assertThat(record.event("level").path("acceptable").asBoolean()).isFalse();
                assertThat(record.ended()).isEqualTo(3);
                assertThat(record.errors()).contains("is silent; check the channel and the cable");
                bench.gain(1);
            }
            try (Program killed = again(bench)) {
                killed.event("fit");
                bench.fit(150);
                killed.send("");
                Path part = session.resolve("take-1.unfinished.wav");
                waitFor(part, 150_000);
                killed.kill();
                assertThat(Files.size(part))
                        .as("what was recorded is on the disk")
                        .isGreaterThan(150_000);
            }
            try (Program killed = again(bench)) {
                assertThat(killed.event("note").path("message").asText())
                        .contains("an unfinished take of")
                        .contains("take-1.unusable-1.wav");
                keepOne(killed);
                killed.event("fit");
                killed.kill();
            }
            try (Program lost = again(bench)) {
                assertThat(lost.event("plan").path("remaining_ohm")).hasSize(2);
                lost.event("fit");
                lost.send("");
                waitFor(session.resolve("take-2.unfinished.wav"), 150_000);
                bench.server().kill();
                long begin = System.nanoTime();
                assertThat(lost.event("note").path("message").asText()).contains("take-2.unusable-1.wav");
                assertThat((System.nanoTime() - begin) / 1e9)
                        .as("seconds until it is noticed")
                        .isLessThan(NOTICED_SECONDS);
                assertThat(lost.ended()).isEqualTo(2);
                assertThat(lost.errors()).contains("it was unplugged or its sound server ended; connect it again");
            }
            assertThat(Files.readString(session.resolve("session.yaml")))
                    .contains("take-1.wav")
                    .doesNotContain("take-2");
        }
    }

    /** Fits what is fitted already until a take is kept: a busy computer may spoil one. */
    private static void keepOne(Program record) throws IOException {
        for (JsonNode event; (event = record.event()) != null; ) {
            if (event.path("event").asText().equals("fit")) {
                record.send("");
            } else if (event.path("event").asText().equals("kept")) {
                return;
            }
        }
        throw new IOException("no take was kept; errors: " + record.errors());
    }

    /** Goes on with the session. */
    private Program again(SimulatedBench bench) throws IOException {
        return Program.ohmprint(
                bench.server().environment(), dir, "record", "session", "--yes", "--json", "--no-level-check");
    }

    @Test
    void aFullDiskEndsTheTakeAndLeavesTheManifest() throws Exception {
        Path small = Files.createDirectory(dir.resolve("small"));
        org.junit.jupiter.api.Assumptions.assumeTrue(
                new ProcessBuilder("mount", "-t", "tmpfs", "-o", "size=3m", "tmpfs", small.toString())
                                .start()
                                .waitFor()
                        == 0,
                "may not mount");
        try (SimulatedBench bench = SimulatedBench.start(dir.resolve("server"), 150)) {
            try (Program record = Program.ohmprint(
                    bench.server().environment(),
                    dir,
                    "record",
                    "small/session",
                    "--yes",
                    "--json",
                    "--no-level-check",
                    "--label",
                    "x",
                    "--input",
                    "3000",
                    "--loads",
                    "150,1500",
                    "--seconds",
                    "2")) {
                record.event("fit");
                record.send("");
                waitFor(small.resolve("session/take-1.unfinished.wav"), 100_000);
                byte[] filler = new byte[1 << 16];
                try (var out = Files.newOutputStream(small.resolve("filler"))) {
                    while (true) {
                        out.write(filler);
                    }
                } catch (IOException full) {
                    assertThat(full).hasMessageContaining("No space left");
                }
                assertThat(record.ended()).isEqualTo(2);
                assertThat(record.errors()).contains("No space left on device");
                assertThat(small.resolve("session/take-1.unusable-1.wav")).exists();
                assertThat(Files.readString(small.resolve("session/session.yaml")))
                        .contains("takes: []");
            }
            try (Program record = Program.ohmprint(
                    bench.server().environment(), dir, "record", "small/session", "--yes", "--no-level-check")) {
                record.send("");
                assertThat(record.ended()).isEqualTo(2);
                assertThat(record.errors()).contains("kB left and a take needs");
            }
        } finally {
            new ProcessBuilder("umount", small.toString()).start().waitFor();
        }
    }
}
