package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class WavWriterTest {
    @TempDir
    Path folder = Path.of(".");

    private Path take() {
        return folder.resolve("take-1.wav");
    }

    private static double[][] sound(int channels, int frames, int bits) {
        double[][] two = InventedSound.samples(InventedSound.stereo(5, frames), bits);
        double[][] out = new double[channels][];
        Arrays.setAll(out, c -> two[c % 2]);
        return out;
    }

    private double[][] readBack() throws IOException {
        try (WavReader reader = WavReader.open(take())) {
            return InventedSound.all(reader);
        }
    }

    @ParameterizedTest
    @CsvSource({
        "PCM_8, 1, 8",
        "PCM_8, 3, 8",
        "PCM_16, 1, 16",
        "PCM_16, 2, 16",
        "PCM_16, 5, 16",
        "PCM_24, 1, 24",
        "PCM_24, 2, 24",
        "PCM_24, 7, 24",
        "PCM_32, 2, 32",
        "FLOAT_64, 2, 32",
        "FLOAT_32, 1, 24",
        "FLOAT_32, 2, 24",
        "FLOAT_32, 3, 24",
    })
    void whatIsWrittenIsReadBackToTheLastBit(WavEncoding encoding, int channels, int bits) throws IOException {
        double[][] sound = sound(channels, 100_001, bits);
        try (WavWriter writer = WavWriter.create(take(), channels, 96000, encoding)) {
            writer.write(sound, 0, 1);
            writer.write(sound, 1, 99_999);
            writer.write(sound, 100_000, 1);
            assertThat(writer.frames()).isEqualTo(100_001);
        }
        assertThat(Files.size(take()) % 2).isZero();
        try (WavReader reader = WavReader.open(take())) {
            assertThat(reader.sampleRate()).isEqualTo(96000);
            assertThat(reader.bits()).isEqualTo(8 * encoding.bytes());
            assertThat(reader.floating()).isEqualTo(encoding.floating());
        }
        assertThat(readBack()).isDeepEqualTo(sound);
    }

    @Test
    void integersAreTheNearestAndFullScaleIsTheLargest() throws IOException {
        double step = 1 / 32768.0;
        double[][] sound = {{1.4 * step, 1.6 * step, -1.6 * step, 1, -1, 1 - step / 2}};
        try (WavWriter writer = WavWriter.create(take(), 1, 48000, WavEncoding.PCM_16)) {
            writer.write(sound, 0, 6);
        }
        assertThat(readBack()[0]).containsExactly(step, 2 * step, -2 * step, 1 - step, -1, 1 - step);
    }

    @Test
    void aSampleBeyondFullScaleIsAnErrorForIntegersOnly() throws IOException {
        double[][] sound = {{0, 0, 0}, {0, 0, -1.001}};
        try (WavWriter writer = WavWriter.create(take(), 2, 48000, WavEncoding.PCM_24)) {
            assertThatThrownBy(() -> writer.write(sound, 1, 2))
                    .isInstanceOf(AudioFormatException.class)
                    .hasMessageContainingAll("take-1.wav", "-1.001", "frame 1, channel 2", "lower the level");
        }
        try (WavWriter writer = WavWriter.create(take(), 2, 48000, WavEncoding.FLOAT_32)) {
            writer.write(sound, 0, 3);
        }
        assertThat(readBack()[1][2]).isEqualTo(-1.001f);
    }

    @ParameterizedTest
    @CsvSource({"FLOAT_32, NaN", "FLOAT_32, 1e40", "PCM_16, NaN", "PCM_24, Infinity"})
    void whatIsNoNumberIsNotWritten(WavEncoding encoding, double wrong) throws IOException {
        try (WavWriter writer = WavWriter.create(take(), 1, 48000, encoding)) {
            assertThatThrownBy(() -> writer.write(new double[][] {{wrong}}, 0, 1))
                    .isInstanceOf(AudioFormatException.class)
                    .hasMessageContaining("frame 0, channel 1");
        }
    }

    /** Triangular dither: mean error 0, variance of the total error ¼ step² whatever the sample (textbook, from memory). */
    @ParameterizedTest
    @ValueSource(doubles = {0, 0.25, 0.5, 100.37})
    void ditherMakesTheErrorIndependentOfTheSample(double steps) throws IOException {
        int n = 200_000;
        double[][] sound = new double[1][n];
        Arrays.fill(sound[0], steps / 32768);
        try (WavWriter writer = WavWriter.createDithered(take(), 1, 48000, WavEncoding.PCM_16, 42)) {
            writer.write(sound, 0, n);
        }
        double sum = 0;
        double squares = 0;
        for (double v : readBack()[0]) {
            double error = v * 32768 - steps;
            sum += error;
            squares += error * error;
        }
        assertThat(sum / n).isCloseTo(0, within(5 * 0.5 / Math.sqrt(n)));
        assertThat(squares / n).isCloseTo(0.25, within(0.005));
    }

    @Test
    void ditherRepeatsWithItsSeed() throws IOException {
        double[][] sound = sound(1, 1000, 24);
        double[][][] runs = new double[3][][];
        for (int i = 0; i < 3; i++) {
            try (WavWriter writer = WavWriter.createDithered(take(), 1, 48000, WavEncoding.PCM_16, i / 2)) {
                writer.write(sound, 0, 1000);
            }
            runs[i] = readBack();
        }
        assertThat(runs[1]).isDeepEqualTo(runs[0]);
        assertThat(runs[2][0]).isNotEqualTo(runs[0][0]);
    }

    @Test
    void aFileIsReadableBeforeItIsClosed() throws IOException {
        double[][] sound = sound(2, 3000, 24);
        try (WavWriter writer = WavWriter.create(take(), 2, 48000, WavEncoding.PCM_24)) {
            writer.write(sound, 0, 1000);
            assertThat(readBack()[0]).isEqualTo(Arrays.copyOf(sound[0], 1000));
            writer.flush();
            writer.write(sound, 1000, 2000);
            assertThat(readBack()[1]).isEqualTo(Arrays.copyOf(sound[1], 1000));
            writer.flush();
            assertThat(readBack()).isDeepEqualTo(sound);
        }
        assertThat(readBack()).isDeepEqualTo(sound);
    }

    @Test
    void beyondTheLimitOfRiffTheFileBecomesRf64() throws IOException {
        double[][] sound = sound(1, 1001, 24);
        WavWriter.Quantiser quantiser = new WavWriter.Quantiser(24);
        try (WavWriter writer = new WavWriter(take(), 1, 48000, WavEncoding.PCM_24, quantiser, 2000)) {
            writer.write(sound, 0, 500);
            writer.flush();
            assertThat(Files.readString(take(), StandardCharsets.ISO_8859_1)).startsWith("RIFF");
            writer.write(sound, 500, 501);
        }
        byte[] bytes = Files.readAllBytes(take());
        ByteBuffer b = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
        assertThat(new String(bytes, 0, 4, StandardCharsets.US_ASCII)).isEqualTo("RF64");
        assertThat(b.getInt(4)).isEqualTo(-1);
        assertThat(new String(bytes, 12, 4, StandardCharsets.US_ASCII)).isEqualTo("ds64");
        assertThat(b.getLong(20)).isEqualTo(bytes.length - 8);
        assertThat(b.getLong(28)).isEqualTo(3003);
        assertThat(b.getLong(36)).isEqualTo(1001);
        assertThat(readBack()).isDeepEqualTo(sound);
    }

    @Test
    void whatNoHeaderCanSayIsRefused() {
        assertThatThrownBy(() -> WavWriter.create(take(), 0, 48000, WavEncoding.PCM_16))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("not 0");
        assertThatThrownBy(() -> WavWriter.create(take(), 30000, 48000, WavEncoding.PCM_24))
                .hasMessageContaining("1 to 21845 channels, not 30000");
        assertThatThrownBy(() -> WavWriter.create(take(), 1, 0, WavEncoding.PCM_24))
                .hasMessageContaining("not 0 Hz");
        assertThatThrownBy(() -> WavWriter.createDithered(take(), 1, 48000, WavEncoding.FLOAT_32, 1))
                .hasMessageContaining("floats need no dither");
        assertThat(take()).doesNotExist();
    }
}
