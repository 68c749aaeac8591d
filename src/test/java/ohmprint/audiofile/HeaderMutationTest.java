package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import com.sun.management.ThreadMXBean;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import ohmprint.dsp.SampleSource;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Headers of WAV and AIFF with fields, chunks and sizes that were changed on purpose: opening and reading ends soon, in
 * little memory, in samples of a permitted format or in a message.
 */
@Tag("slow")
class HeaderMutationTest {
    private static final int EACH = 400;
    private static final double MOST_SECONDS = 2;
    private static final long MOST_BYTES = 32L << 20;
    private static final int[] EDGES = {
        0,
        1,
        2,
        3,
        7,
        8,
        16,
        24,
        32,
        33,
        64,
        255,
        256,
        257,
        1000,
        3999,
        4000,
        32767,
        32768,
        65_535,
        65_536,
        1_000_000,
        1_000_001,
        Integer.MAX_VALUE - 1,
        Integer.MAX_VALUE,
        Integer.MIN_VALUE,
        -2,
        -1
    };

    @TempDir
    Path folder = Path.of(".");

    private record Chunk(String id, byte[] body) {}

    private record Outcome(boolean read, double seconds, long bytes) {}

    @ParameterizedTest
    @CsvSource({
        "noise-16.wav, fmt",
        "noise-24-rf64.wav, fmt",
        "noise-24-bext.wav, fmt",
        "noise-float32.wav, fmt",
        "noise-24.aiff, COMM",
        "noise-16-little.aiff, COMM",
        "noise-float.aiff, COMM"
    })
    void aHeaderThatWasChangedEndsInSamplesOrAMessage(String name, String format) throws IOException {
        byte[] whole = Files.readAllBytes(ForeignFilesTest.FOLDER.resolve(name));
        Path file = folder.resolve("take-1.wav");
        int read = 0;
        for (int seed = 0; seed < EACH; seed++) {
            Files.write(file, mutated(whole, format, new Random(seed)));
            String where = name + " with seed " + seed;
            Outcome outcome = assertTimeoutPreemptively(Duration.ofSeconds(60), () -> outcome(file), where);
            assertThat(outcome.seconds()).as(where).isLessThan(MOST_SECONDS);
            assertThat(outcome.bytes()).as(where).isLessThan(MOST_BYTES);
            read += outcome.read() ? 1 : 0;
        }
        assertThat(read).as("some read, some refused").isBetween(EACH / 50, EACH - EACH / 50);
    }

    /** Any other exception than the declared one ends the test. */
    private static Outcome outcome(Path file) throws IOException {
        var threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long start = threads.getCurrentThreadCpuTime();
        long before = threads.getThreadAllocatedBytes(Thread.currentThread().getId());
        boolean read = false;
        try (SampleSource source = AudioFiles.open(file)) {
            assertThat(source.channels()).isBetween(1, 256);
            assertThat(source.sampleRate()).isBetween(4000.0, 1e6);
            double[][] block = new double[source.channels()][1024];
            long frames = 0;
            int got;
            while ((got = source.read(block, 0, 1024)) > 0) {
                frames += got;
            }
            assertThat(frames).isEqualTo(source.frames());
            read = true;
        } catch (AudioFormatException e) {
            assertThat(e).hasMessageContainingAll("take-1.wav: ", "; ");
        }
        return new Outcome(
                read,
                (threads.getCurrentThreadCpuTime() - start) / 1e9,
                threads.getThreadAllocatedBytes(Thread.currentThread().getId()) - before);
    }

    /** One to three changes of fields, sizes, names or the order of chunks. */
    private static byte[] mutated(byte[] whole, String format, Random random) {
        boolean big = whole[0] == 'F';
        List<Chunk> chunks = chunks(whole, big);
        int wrongSize = -1;
        for (int changes = 1 + random.nextInt(3); changes > 0; changes--) {
            int at = random.nextInt(chunks.size());
            switch (random.nextInt(8)) {
                case 0 -> chunks.add(random.nextInt(chunks.size() + 1), chunks.get(at));
                case 1 -> chunks.remove(chunks.size() > 1 ? at : 0);
                case 2 -> chunks.add(chunks.remove(at));
                case 3 -> wrongSize = at;
                case 4 -> chunks.set(at, new Chunk("JUNK", chunks.get(at).body()));
                default -> {
                    int field = indexOf(chunks, format);
                    if (field >= 0) {
                        chunks.set(
                                field,
                                new Chunk(
                                        chunks.get(field).id(),
                                        edged(chunks.get(field).body(), big, random)));
                    }
                }
            }
            if (chunks.isEmpty()) {
                break;
            }
        }
        return put(whole, chunks, big, wrongSize, random);
    }

    private static byte[] edged(byte[] body, boolean big, Random random) {
        byte[] changed = body.clone();
        ByteBuffer b = ByteBuffer.wrap(changed).order(big ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN);
        int value = EDGES[random.nextInt(EDGES.length)];
        if (random.nextBoolean() && changed.length >= 4) {
            b.putInt(random.nextInt(changed.length / 2 - 1) * 2, value);
        } else if (changed.length >= 2) {
            b.putShort(random.nextInt(changed.length / 2) * 2, (short) value);
        }
        return changed;
    }

    private static int indexOf(List<Chunk> chunks, String id) {
        for (int i = 0; i < chunks.size(); i++) {
            if (chunks.get(i).id().strip().equals(id)) {
                return i;
            }
        }
        return -1;
    }

    private static List<Chunk> chunks(byte[] whole, boolean big) {
        List<Chunk> out = new ArrayList<>();
        ByteBuffer b = ByteBuffer.wrap(whole).order(big ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN);
        for (int at = 12; at + 8 <= whole.length; ) {
            long stated = b.getInt(at + 4) & 0xFFFF_FFFFL;
            byte[] body = new byte[(int) Math.min(stated, whole.length - at - 8)];
            b.get(at + 8, body);
            out.add(new Chunk(FileBytes.id(b, at), body));
            at += 8 + body.length + body.length % 2;
        }
        assertThat(out).hasSizeGreaterThan(1);
        return out;
    }

    private static byte[] put(byte[] whole, List<Chunk> chunks, boolean big, int wrongSize, Random random) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        out.write(whole, 0, 12);
        for (int i = 0; i < chunks.size(); i++) {
            Chunk chunk = chunks.get(i);
            int size = i == wrongSize ? EDGES[random.nextInt(EDGES.length)] : chunk.body().length;
            out.writeBytes(chunk.id().getBytes(java.nio.charset.StandardCharsets.ISO_8859_1));
            out.writeBytes(ByteBuffer.allocate(4)
                    .order(big ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN)
                    .putInt(size)
                    .array());
            out.writeBytes(chunk.body());
            if (chunk.body().length % 2 == 1) {
                out.write(0);
            }
        }
        return out.toByteArray();
    }
}
