package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Path;
import java.util.Arrays;
import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioInputStream;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.UnsupportedAudioFileException;
import ohmprint.dsp.SampleSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The Java sound library's own readers as the second opinion, for the kinds of file that it reads right. */
class JavaSoundAgreementTest {
    @TempDir
    Path folder = Path.of(".");

    @ParameterizedTest
    @ValueSource(
            strings = {
                "noise-8.wav",
                "noise-16.wav",
                "noise-24.wav",
                "noise-32.wav",
                "noise-24-bext.wav",
                "noise-8.aiff",
                "noise-16.aiff",
                "noise-24.aiff",
                "noise-32.aiff",
            })
    void filesOfOtherPrograms(String name) throws IOException, UnsupportedAudioFileException {
        agree(ForeignFilesTest.FOLDER.resolve(name));
    }

    @ParameterizedTest
    @CsvSource({"PCM_16, 1", "PCM_16, 2", "PCM_16, 3", "PCM_24, 1", "PCM_24, 2", "PCM_24, 5"})
    void filesWrittenHere(WavEncoding encoding, int channels) throws IOException, UnsupportedAudioFileException {
        double[][] two = InventedSound.samples(InventedSound.stereo(9, 777), 16);
        double[][] sound = new double[channels][];
        Arrays.setAll(sound, c -> two[c % 2]);
        Path file = folder.resolve("take-1.wav");
        try (WavWriter writer = WavWriter.create(file, channels, 44100, encoding)) {
            writer.write(sound, 0, 777);
        }
        agree(file);
    }

    @Test
    void floatsWrittenHere() throws IOException, UnsupportedAudioFileException {
        double[][] sound = InventedSound.samples(InventedSound.stereo(9, 777), 24);
        Path file = folder.resolve("take-1.wav");
        try (WavWriter writer = WavWriter.create(file, 2, 44100, WavEncoding.FLOAT_32)) {
            writer.write(sound, 0, 777);
        }
        try (AudioInputStream in = AudioSystem.getAudioInputStream(file.toFile())) {
            assertThat(in.getFormat().getEncoding()).isEqualTo(AudioFormat.Encoding.PCM_FLOAT);
            assertThat(in.getFrameLength()).isEqualTo(777);
            ByteBuffer b = ByteBuffer.wrap(in.readAllBytes()).order(ByteOrder.LITTLE_ENDIAN);
            for (int i = 0; i < 777; i++) {
                assertThat(b.getFloat()).isEqualTo((float) sound[0][i]);
                assertThat(b.getFloat()).isEqualTo((float) sound[1][i]);
            }
        }
    }

    private static void agree(Path file) throws IOException, UnsupportedAudioFileException {
        try (AudioInputStream in = AudioSystem.getAudioInputStream(file.toFile());
                SampleSource source = AudioFiles.open(file)) {
            AudioFormat format = in.getFormat();
            assertThat(source.channels()).isEqualTo(format.getChannels());
            assertThat(source.sampleRate()).isEqualTo(format.getSampleRate());
            assertThat(source.frames()).isEqualTo(in.getFrameLength());
            assertThat(InventedSound.all(source)).isDeepEqualTo(samples(in.readAllBytes(), format));
        }
    }

    private static double[][] samples(byte[] bytes, AudioFormat format) {
        int width = format.getSampleSizeInBits() / 8;
        int frames = bytes.length / format.getFrameSize();
        double[][] out = new double[format.getChannels()][frames];
        for (int i = 0; i < frames * format.getChannels(); i++) {
            long value = 0;
            for (int b = 0; b < width; b++) {
                int at = i * width + (format.isBigEndian() ? b : width - 1 - b);
                value = b == 0 ? bytes[at] : value << 8 | bytes[at] & 0xFF;
            }
            if (format.getEncoding().equals(AudioFormat.Encoding.PCM_UNSIGNED)) {
                value = (value & 0xFF) - 128;
            }
            out[i % format.getChannels()][i / format.getChannels()] = value / Math.pow(2, 8 * width - 1);
        }
        return out;
    }
}
