package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;

/**
 * Headers written byte by byte, as recorders leave them, around three frames whose samples follow from the format's
 * definition.
 */
abstract class WrittenHeaders {
    /** 16-bit stereo frames (1, −2), (32767, −32768), (256, 3). */
    static final byte[] THREE = {1, 0, -2, -1, -1, 127, 0, -128, 0, 1, 3, 0};

    static final double[][] THREE_SAMPLES = {
        {1 / 32768.0, 32767 / 32768.0, 256 / 32768.0}, {-2 / 32768.0, -1, 3 / 32768.0}
    };

    @TempDir
    Path folder = Path.of(".");

    Path file(byte[] bytes) throws IOException {
        return Files.write(folder.resolve("take-1.wav"), bytes);
    }

    double[][] read(WavBytes wav) throws IOException {
        return read(wav.bytes());
    }

    double[][] read(byte[] bytes) throws IOException {
        try (WavReader reader = WavReader.open(file(bytes))) {
            return InventedSound.all(reader);
        }
    }

    static WavBytes stereo16() {
        return WavBytes.riff().fmt(1, 2, 48000, 4, 16);
    }

    void refused(byte[] bytes, String... parts) throws IOException {
        Path file = file(bytes);
        assertThatThrownBy(() -> WavReader.open(file))
                .isInstanceOf(AudioFormatException.class)
                .hasMessageContaining("take-1.wav: ")
                .hasMessageContainingAll(parts)
                .hasMessageContaining("; ");
    }
}
