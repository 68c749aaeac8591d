package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import ohmprint.dsp.SampleSource;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A damaged FLAC file ends soon: with a message, or with the samples that were encoded, never with others. */
@Tag("statistics")
class FlacDamageTest {
    private static final int EACH = 500;

    /** Far above what a file of some kilobytes needs; in time of the processor, so that other work does not count. */
    private static final double MOST_SECONDS = 2;

    /** The encoder's MD5 sum, and what makes it comparable: rate, channels and bits stand before it. */
    private static final int SUM_FROM = 18;

    private static final int SUM_TO = 42;

    @TempDir
    Path folder = Path.of(".");

    /** Found by changing noise-24-level0.flac in two places; an older decoder never ended on it. */
    @Test
    void theFileThatOnceNeverEndedIsRefused() {
        Path file = ForeignFilesTest.FOLDER.resolve("flac-loop.flac");
        assertTimeoutPreemptively(
                Duration.ofSeconds(20),
                () -> assertThatThrownBy(() -> outcome(file))
                        .isInstanceOf(AudioFormatException.class)
                        .hasMessageContainingAll("flac-loop.flac: ", "after frame 0", "at byte 86", "; copy it again"));
    }

    /** 500 changes to each of ten files of different level, width, channels and kinds of block. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "noise-8-level8.flac", "noise-16-level0.flac", "noise-24-level8.flac", "level5-32.flac",
                "level5-six-24.flac", "kinds-fixed-16.flac", "kinds-24.flac", "kinds-mono-24.flac",
                "kinds-wasted-24.flac", "streamed-varying-16.flac"
            })
    void aDamagedFileIsNeverReadAsOtherSamples(String name) throws IOException {
        byte[] whole = Files.readAllBytes(ForeignFilesTest.FOLDER.resolve(name));
        List<Integer> frames = frames(whole);
        double[][] expected = outcome(ForeignFilesTest.FOLDER.resolve(name));
        Path file = folder.resolve("take-1.flac");
        int refused = 0;
        for (int seed = 0; seed < EACH; seed++) {
            byte[] bytes = damage(whole, frames, new Random(seed));
            Files.write(file, bytes);
            String where = name + " with seed " + seed;
            Outcome got = assertTimeoutPreemptively(Duration.ofSeconds(60), () -> timed(file), where);
            assertThat(got.seconds()).as(where).isLessThan(MOST_SECONDS);
            if (got.message() != null) {
                refused++;
                assertThat(got.message())
                        .as(where)
                        .contains("take-1.flac: ", "; ")
                        .containsPattern("frame|byte|Hz|bits");
            } else if (Arrays.equals(bytes, SUM_FROM, SUM_TO, whole, SUM_FROM, SUM_TO)) {
                assertThat(got.samples()).as(where).isDeepEqualTo(expected);
            }
        }
        assertThat(refused).isGreaterThan(EACH / 2);
    }

    private record Outcome(double[][] samples, String message, double seconds) {}

    private static Outcome timed(Path file) throws IOException {
        var clock = ManagementFactory.getThreadMXBean();
        long start = clock.getCurrentThreadCpuTime();
        double[][] samples = null;
        String message = null;
        try {
            samples = outcome(file);
        } catch (AudioFormatException e) {
            message = e.getMessage();
        }
        return new Outcome(samples, message, (clock.getCurrentThreadCpuTime() - start) / 1e9);
    }

    /** All samples, read in blocks: what a header claims must not be believed before it is there. */
    private static double[][] outcome(Path file) throws IOException {
        try (SampleSource source = AudioFiles.open(file)) {
            double[][] block = new double[source.channels()][4096];
            double[][] all = new double[source.channels()][0];
            int got;
            while ((got = source.read(block, 0, 4096)) > 0) {
                for (int c = 0; c < all.length; c++) {
                    int before = all[c].length;
                    all[c] = Arrays.copyOf(all[c], before + got);
                    System.arraycopy(block[c], 0, all[c], before, got);
                }
            }
            assertThat(all[0].length).isEqualTo((int) source.frames());
            return all;
        }
    }

    /** One to four changes; in half of all files the sums of the frames' headers are made right again, so that more is read. */
    private static byte[] damage(byte[] whole, List<Integer> frames, Random random) {
        byte[] bytes = whole.clone();
        for (int changes = 1 + random.nextInt(4); changes > 0; changes--) {
            int frame = frames.get(random.nextInt(frames.size()));
            int at = Math.min(
                    bytes.length - 1,
                    switch (random.nextInt(4)) {
                        case 0 -> random.nextInt(SUM_TO);
                        case 1 -> frame + random.nextInt(8);
                        case 2 -> frame + 6 + random.nextInt(12);
                        default -> random.nextInt(bytes.length);
                    });
            switch (random.nextInt(6)) {
                case 0 -> bytes[at] = (byte) random.nextInt(256);
                case 1 -> bytes[at] = (byte) 0xFF;
                case 2 -> Arrays.fill(bytes, at, Math.min(bytes.length, at + random.nextInt(400)), (byte) 0);
                case 3 ->
                    System.arraycopy(
                            whole,
                            frame,
                            bytes,
                            at,
                            Math.min(random.nextInt(64), Math.min(whole.length - frame, bytes.length - at)));
                default -> bytes[at] ^= (byte) (1 << random.nextInt(8));
            }
        }
        if (random.nextBoolean()) {
            for (int frame : frames) {
                int length = headerBytes(whole, frame);
                bytes[frame + length] =
                        (byte) FlacReader.Bits.crc8(Arrays.copyOfRange(bytes, frame, frame + length), length);
            }
        }
        return random.nextInt(6) == 0 ? Arrays.copyOf(bytes, random.nextInt(bytes.length)) : bytes;
    }

    /** Where the frames of a valid file begin: at headers whose sum is right and whose numbers follow each other. */
    static List<Integer> frames(byte[] bytes) {
        List<Integer> found = new ArrayList<>();
        long next = 0;
        for (int at = 42; at + 16 < bytes.length; at++) {
            if ((bytes[at] & 0xFF) == 0xFF && (bytes[at + 1] & 0xFE) == 0xF8) {
                byte[] head = Arrays.copyOfRange(bytes, at, at + 16);
                int[] place = {0};
                try {
                    FlacReader.FrameHeader frame = FlacReader.FrameHeader.read(() -> head[place[0]++] & 0xFF);
                    if (frame.number() == next) {
                        found.add(at);
                        next += frame.counted() ? frame.blockSize() : 1;
                    }
                } catch (IOException e) {
                    // two bytes that look like a mark
                }
            }
        }
        assertThat(found).isNotEmpty();
        return found;
    }

    /** Bytes before the sum of a header. */
    private static int headerBytes(byte[] bytes, int at) {
        byte[] head = Arrays.copyOfRange(bytes, at, at + 16);
        int[] place = {0};
        try {
            FlacReader.FrameHeader.read(() -> head[place[0]++] & 0xFF);
        } catch (IOException e) {
            throw new IllegalStateException("there was a header before", e);
        }
        return place[0] - 1;
    }
}
