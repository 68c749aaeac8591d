package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import com.sun.management.ThreadMXBean;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.Random;
import ohmprint.dsp.SampleSource;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Whatever happens to a file, reading it ends soon with samples or with a message. */
@Tag("statistics")
class DamagedFilesTest {
    @TempDir
    Path folder = Path.of(".");

    @ParameterizedTest
    @CsvSource({
        "noise-16.wav, 60", "noise-24.wav, 100", "noise-24-rf64.wav, 200", "noise-24-bext.wav, 120",
        "noise-24-streamed.wav, 120", "noise-float32.wav, 80", "noise-24.aiff, 80", "noise-16-little.aiff, 90",
        "noise-16-level0.flac, 200", "noise-24-level8.flac, 200", "noise-8-level8.flac, 5000",
    })
    void aDamagedFileEndsInSamplesOrAMessage(String name, int header) throws IOException {
        byte[] whole = Files.readAllBytes(ForeignFilesTest.FOLDER.resolve(name));
        Path file = folder.resolve("take-1.wav");
        int outcomes = 0;
        for (int seed = 0; seed < 250; seed++) {
            byte[] bytes = damage(whole, header, new Random(seed));
            Files.write(file, bytes);
            String where = name + " with seed " + seed;
            outcomes |= assertTimeoutPreemptively(Duration.ofSeconds(20), () -> outcome(file), where);
        }
        assertThat(outcomes).as("some refused, some read").isEqualTo(3);
    }

    private static byte[] damage(byte[] whole, int header, Random random) {
        byte[] bytes = whole.clone();
        int changes = random.nextInt(4);
        for (int i = 0; i < changes; i++) {
            int at = random.nextInt(random.nextBoolean() ? Math.min(header, bytes.length) : bytes.length);
            bytes[at] = switch (random.nextInt(4)) {
                case 0 -> (byte) random.nextInt(256);
                case 1 -> (byte) 0xFF;
                case 2 -> 0;
                default -> (byte) (bytes[at] ^ 1 << random.nextInt(8));
            };
        }
        return random.nextInt(3) == 0 ? Arrays.copyOf(bytes, random.nextInt(bytes.length)) : bytes;
    }

    /** 1 if the file was read, 2 if it was refused; any other exception ends the test. */
    private static int outcome(Path file) throws IOException {
        try (SampleSource source = AudioFiles.open(file)) {
            double[][] block = new double[source.channels()][64];
            long frames = 0;
            for (int got = 64; got == 64; frames += got) {
                got = source.read(block, 0, 64);
            }
            assertThat(frames).isEqualTo(source.frames());
            for (double[] channel : block) {
                assertThat(Arrays.stream(channel).allMatch(Double::isFinite)).isTrue();
            }
            return 1;
        } catch (AudioFormatException e) {
            assertThat(e).hasMessageContaining("take-1.wav: ").hasMessageContaining("; ");
            return 2;
        }
    }

    /** What a header claims costs nothing: opening and reading one frame takes a few blocks, not gigabytes. */
    @Test
    void claimsOfManyChannelsAndBytesDoNotTakeMemory() throws IOException {
        Path file = folder.resolve("take-1.wav");
        Files.write(
                file,
                WavBytes.riff()
                        .fmt(1, 256, 192000, 60000, 8)
                        .chunkOf("data", 0xFFFF_FFF0L, new byte[300_000])
                        .bytes());
        byte[] flac = Files.readAllBytes(ForeignFilesTest.FOLDER.resolve("noise-16-level0.flac"));
        ByteBuffer.wrap(flac).put(46 - 4, (byte) 0x86).putInt(50, 0x7FFF_FFFF);
        Path picture = Files.write(folder.resolve("take-2.flac"), flac);
        long before = allocated();
        try (WavReader reader = WavReader.openTruncated(file)) {
            double[][] out = new double[256][];
            Arrays.fill(out, new double[5]);
            assertThat(reader.read(out, 0, 5)).isEqualTo(5);
        }
        try (SampleSource source = AudioFiles.open(picture)) {
            assertThat(source.frames()).isEqualTo(2400);
        }
        assertThat(allocated() - before).isLessThan(8L << 20);
    }

    private static long allocated() {
        var threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        return threads.getThreadAllocatedBytes(Thread.currentThread().getId());
    }
}
