package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import ohmprint.dsp.SampleSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What encoders of FLAC seldom write, to the last bit.
 *
 * <p>Source: fixtures/audio/make-flac.py, 2026-11-30, with an encoder of its own whose files the decoder of flac 1.4.2
 * found to have the stated MD5 sums; {@code level5-*} by the encoder of flac 1.4.2. The expected samples are computed again.
 */
class FlacKindsTest {
    private static final int FRAMES = 4800;

    @TempDir
    Path folder = Path.of(".");

    @ParameterizedTest
    @CsvSource({
        "kinds-8.flac, 8, 8",
        "kinds-12.flac, 12, 12",
        "kinds-16.flac, 16, 16",
        "kinds-20.flac, 20, 20",
        "kinds-24.flac, 24, 24",
        "kinds-wasted-24.flac, 24, 19",
        "kinds-fixed-16.flac, 16, 16",
        "streamed-varying-16.flac, 16, 16",
        "streamed-fixed-24.flac, 24, 24",
    })
    void everyKindOfBlockIsReadToTheLastBit(String name, int bits, int used) throws IOException {
        // samples of `used` bits at the upper end of `bits`: the same values relative to full scale
        double[][] expected = InventedSound.samples(InventedSound.stereo(7, FRAMES), used);
        same(name, bits, expected);
    }

    @ParameterizedTest
    @ValueSource(strings = {"kinds-32.flac", "level5-32.flac"})
    void samplesOf32BitsKeepThemAll(String name) throws IOException {
        int[][] sound = InventedSound.stereo(7, FRAMES);
        double[][] expected = new double[2][FRAMES];
        for (int c = 0; c < 2; c++) {
            for (int i = 0; i < FRAMES; i++) {
                expected[c][i] = ((sound[c][i] << 8) + (sound[1 - c][i] & 0xFF)) / Math.pow(2, 31);
            }
        }
        same(name, 32, expected);
    }

    @Test
    void oneChannelAndManyAreRead() throws IOException {
        int[][] sound = InventedSound.stereo(7, FRAMES);
        same("kinds-mono-24.flac", 24, shifted(sound, 1, 0, 23));
        same("level5-six-24.flac", 24, shifted(sound, 6, 0, 23));
        same("kinds-eight-16.flac", 16, shifted(sound, 8, 8, 15));
    }

    /** Channel c is that of the stereo sound, c places lower. */
    private static double[][] shifted(int[][] sound, int channels, int shift, int scale) {
        double[][] out = new double[channels][FRAMES];
        for (int c = 0; c < channels; c++) {
            for (int i = 0; i < FRAMES; i++) {
                out[c][i] = (sound[c % 2][i] >> (shift + c)) / Math.pow(2, scale);
            }
        }
        return out;
    }

    private static void same(String name, int bits, double[][] expected) throws IOException {
        try (SampleSource source = AudioFiles.open(ForeignFilesTest.FOLDER.resolve(name))) {
            assertThat(source.sampleRate()).isEqualTo(48000);
            assertThat(source.frames()).isEqualTo(expected[0].length);
            assertThat(WavEncoding.holding(source).bytes()).isEqualTo((bits + 7) / 8);
            assertThat(InventedSound.all(source)).isDeepEqualTo(expected);
        }
    }

    /** Residuals stored plainly once made the decoder talk on standard output, in front of JSON. */
    @Test
    void readingPrintsNothing() throws IOException {
        ByteArrayOutputStream heard = new ByteArrayOutputStream();
        PrintStream out = System.out;
        System.setOut(new PrintStream(heard, true, StandardCharsets.UTF_8));
        try (SampleSource source = AudioFiles.open(ForeignFilesTest.FOLDER.resolve("kinds-fixed-16.flac"))) {
            InventedSound.all(source);
        } finally {
            System.setOut(out);
        }
        assertThat(heard.toString(StandardCharsets.UTF_8)).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(strings = {"streamed-varying-16.flac", "streamed-fixed-24.flac"})
    void aStreamCutShortIsRefusedAlthoughItsLengthIsNotStated(String name) throws IOException {
        byte[] whole = Files.readAllBytes(ForeignFilesTest.FOLDER.resolve(name));
        Path file = Files.write(folder.resolve("take-1.flac"), Arrays.copyOf(whole, whole.length - 300));
        assertThatThrownBy(() -> AudioFiles.open(file))
                .isInstanceOf(AudioFormatException.class)
                .hasMessageContainingAll("take-1.flac: ", "does not state how many frames", "; copy it again");
    }

    /** A block lost between two others changes nothing that a sum of one block would show. */
    @Test
    void aMissingBlockIsNoticedWithoutASumOverAllSamples() throws IOException {
        byte[] whole = Files.readAllBytes(ForeignFilesTest.FOLDER.resolve("kinds-fixed-16.flac"));
        Arrays.fill(whole, 26, 42, (byte) 0);
        int second = FlacDamageTest.frames(whole).get(1);
        int third = FlacDamageTest.frames(whole).get(2);
        byte[] cut = Arrays.copyOf(whole, whole.length - (third - second));
        System.arraycopy(whole, third, cut, second, whole.length - third);
        Path file = Files.write(folder.resolve("take-1.flac"), cut);
        assertThatThrownBy(() -> {
                    try (SampleSource source = AudioFiles.open(file)) {
                        InventedSound.all(source);
                    }
                })
                .isInstanceOf(AudioFormatException.class)
                .hasMessageContainingAll("after frame 192", "byte " + second, "number 2 where 1 belongs", "; copy it");
    }
}
