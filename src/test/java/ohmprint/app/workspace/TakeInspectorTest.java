package ohmprint.app.workspace;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.locks.LockSupport;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavWriter;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Looking into recordings of a session while the recorder gives them their names. */
@Tag("slow")
class TakeInspectorTest {
    private static final int RATE = 48_000;
    private static final int ROUNDS = 40;

    @TempDir
    Path dir;

    /** Keeping moves the file first and tells so afterwards; between the two every moment must do. */
    @Test
    void aTakeThatIsKeptWhileItIsLookedIntoIsFound() throws Exception {
        Path session = session();
        Path unfinished = session.resolve("take-1.unfinished.wav");
        Path kept = session.resolve("take-1.wav");
        recording(unfinished);
        TakeInspector listening = new TakeInspector(session, PathGuard.of(dir));
        long begun = System.nanoTime();
        assertThat(listening.inspect("take-1.wav", () -> "take-1.wav").seconds())
                .isEqualTo(2);
        long looked = System.nanoTime() - begun;
        for (int i = 0; i < ROUNDS; i++) {
            long after = looked * i / ROUNDS;
            CompletableFuture<Path> keeping = CompletableFuture.supplyAsync(() -> {
                LockSupport.parkNanos(after);
                return moved(unfinished, kept);
            });
            assertThat(listening.inspect("take-1.wav", () -> "take-1.wav").seconds())
                    .isEqualTo(2);
            moved(keeping.get(), unfinished);
        }
    }

    @Test
    void aRecordingThatIsNotThereOrNoAudioIsRefusedByName() throws Exception {
        Path session = session();
        TakeInspector listening = new TakeInspector(session, PathGuard.of(dir));
        assertThatThrownBy(() -> listening.inspect("take-9.wav", () -> "take-9.wav"))
                .isInstanceOf(MissingException.class)
                .hasMessageContaining("take-9.wav");
        Files.writeString(session.resolve("take-8.wav"), "no audio");
        assertThatThrownBy(() -> listening.inspect("take-8.wav", () -> null))
                .hasMessageContaining("take-8.wav cannot be read as audio");
    }

    private static Path moved(Path from, Path to) {
        try {
            return Files.move(from, to);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private Path session() throws Exception {
        Path session = Files.createDirectory(dir.resolve("session"));
        Files.writeString(session.resolve("session.yaml"), "");
        return session;
    }

    private static void recording(Path file) throws Exception {
        double[][] tone = new double[1][2 * RATE];
        for (int i = RATE / 2; i < tone[0].length; i++) {
            tone[0][i] = 0.1 * Math.sin(2 * Math.PI * 1000 * i / RATE);
        }
        try (WavWriter writer = WavWriter.create(file, 1, RATE, WavEncoding.PCM_24)) {
            writer.write(tone, 0, tone[0].length);
        }
    }
}
