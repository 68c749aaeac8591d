package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import ohmprint.dsp.SampleSource;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Files made by other programs from the same invented sound.
 *
 * <p>Source: flac 1.4.2, SoX 14.4.2, ffmpeg 5.1.9 and scipy 1.17.1, through fixtures/audio/make-audio.py, 2026-11-25.
 */
class ForeignFilesTest {
    static final Path FOLDER = Path.of("fixtures", "audio");

    @ParameterizedTest
    @CsvSource({
        "noise-8.wav, 8, 500, 11",
        "noise-16.wav, 16, 500, 11",
        "noise-24.wav, 24, 500, 11",
        "noise-32.wav, 32, 500, 11",
        "noise-24-rf64.wav, 24, 500, 11",
        "noise-24-bext.wav, 24, 500, 11",
        "noise-24-streamed.wav, 24, 500, 11",
        "noise-float32.wav, 32, 500, 11",
        "noise-float64.wav, 32, 500, 11",
        "noise-8.aiff, 8, 500, 11",
        "noise-16.aiff, 16, 500, 11",
        "noise-16-little.aiff, 16, 500, 11",
        "noise-24.aiff, 24, 500, 11",
        "noise-32.aiff, 32, 500, 11",
        "noise-float.aiff, 32, 500, 11",
        "noise-8-level8.flac, 8, 4800, 7",
        "noise-16-level0.flac, 16, 2400, 7",
        "noise-16-level8.flac, 16, 4800, 7",
        "noise-24-level0.flac, 24, 2400, 7",
        "noise-24-level8.flac, 24, 4800, 7",
    })
    void aFileOfAnotherProgramIsReadToTheLastBit(String name, int bits, int frames, int seed) throws IOException {
        double[][] expected = InventedSound.samples(InventedSound.stereo(seed, frames), bits);
        try (SampleSource source = AudioFiles.open(FOLDER.resolve(name))) {
            assertThat(source.channels()).isEqualTo(2);
            assertThat(source.sampleRate()).isEqualTo(48000);
            assertThat(source.frames()).isEqualTo(frames);
            assertThat(InventedSound.all(source)).isDeepEqualTo(expected);
        }
    }

    @ParameterizedTest
    @CsvSource({"noise-24.wav, 11", "noise-24.aiff, 11", "noise-24-level8.flac, 7"})
    void skippingLandsOnTheRightFrame(String name, int seed) throws IOException {
        try (SampleSource source = AudioFiles.open(FOLDER.resolve(name))) {
            int frames = (int) source.frames();
            double[][] expected = InventedSound.samples(InventedSound.stereo(seed, frames), 24);
            double[][] got = new double[2][10];
            assertThat(source.skip(frames - 100)).isEqualTo(frames - 100);
            assertThat(source.read(got, 3, 5)).isEqualTo(5);
            assertThat(got[1][3]).isEqualTo(expected[1][frames - 100]);
            assertThat(got[0][7]).isEqualTo(expected[0][frames - 96]);
            assertThat(got[0][8]).isZero();
            assertThat(source.skip(1000)).isEqualTo(95);
            assertThat(source.read(got, 0, 1)).isZero();
        }
    }
}
