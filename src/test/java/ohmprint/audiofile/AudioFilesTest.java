package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.ByteBuffer;
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

class AudioFilesTest {
    @TempDir
    Path folder = Path.of(".");

    private Path file(byte[] bytes) throws IOException {
        return Files.write(folder.resolve("take-1.wav"), bytes);
    }

    private static byte[] fixture(String name) throws IOException {
        return Files.readAllBytes(ForeignFilesTest.FOLDER.resolve(name));
    }

    private void refused(byte[] bytes, String... parts) throws IOException {
        Path file = file(bytes);
        assertThatThrownBy(() -> {
                    try (SampleSource source = AudioFiles.open(file)) {
                        InventedSound.all(source);
                    }
                })
                .isInstanceOf(AudioFormatException.class)
                .hasMessageContaining("take-1.wav: ")
                .hasMessageContainingAll(parts);
    }

    @ParameterizedTest
    @ValueSource(strings = {"noise-16.aiff", "noise-16-level8.flac", "noise-24-rf64.wav"})
    void theContentDecidesAndNotTheName(String name) throws IOException {
        try (SampleSource source = AudioFiles.open(file(fixture(name)))) {
            assertThat(source.channels()).isEqualTo(2);
            assertThat(source.read(new double[2][10], 0, 10)).isEqualTo(10);
        }
    }

    @ParameterizedTest
    @CsvSource({
        "OggS, an Ogg stream", "caff, a CAF file", ".snd, an AU file", "riff, a Wave64 file",
        "ID3!, MPEG audio", "PK!!, no WAV", "X, no WAV", "'', is empty",
    })
    void otherKindsAreRefusedByName(String start, String name) throws IOException {
        byte[] bytes = start.getBytes(StandardCharsets.ISO_8859_1);
        refused(start.length() < 4 ? bytes : Arrays.copyOf(bytes, 100), name);
    }

    @Test
    void aFlacFileCutShortIsNoticed() throws IOException {
        byte[] whole = fixture("noise-24-level8.flac");
        refused(Arrays.copyOf(whole, whole.length * 2 / 3), "frame");
        refused(Arrays.copyOf(whole, (int) firstFlacFrame(whole)), "cut short", "4800 frames", "0 bytes");
        refused(Arrays.copyOf(whole, 42), "ends inside its metadata");
    }

    @Test
    void aFlippedBitInFlacIsNoticedWhereverItIs() throws IOException {
        byte[] whole = fixture("noise-16-level0.flac");
        int first = (int) firstFlacFrame(whole);
        for (int at = first; at < whole.length; at += 61) {
            byte[] bytes = whole.clone();
            bytes[at] ^= 4;
            refused(bytes, "frame");
        }
    }

    @Test
    void flacSamplesThatDifferFromTheEncodersAreNoticed() throws IOException {
        byte[] bytes = fixture("noise-16-level0.flac");
        bytes[30] ^= 1;
        refused(bytes, "MD5 sums over all 2400 frames differ");
    }

    /** The length of a stream comes from its last block, which a file by another program tells as well. */
    @Test
    void flacWithoutAStatedLengthIsRead() throws IOException {
        byte[] bytes = fixture("noise-16-level0.flac");
        ByteBuffer b = ByteBuffer.wrap(bytes);
        b.putLong(18, b.getLong(18) & ~0xF_FFFF_FFFFL);
        try (SampleSource source = AudioFiles.open(file(bytes))) {
            assertThat(source.frames()).isEqualTo(2400);
            assertThat(InventedSound.all(source))
                    .isDeepEqualTo(InventedSound.samples(InventedSound.stereo(7, 2400), 16));
        }
    }

    @Test
    void flacOfMoreFramesThanItsBytesCanHoldIsRefusedBeforeItIsRead() throws IOException {
        byte[] bytes = fixture("noise-16-level0.flac");
        ByteBuffer b = ByteBuffer.wrap(bytes);
        b.putLong(18, b.getLong(18) | 0xF_FFFF_FFFFL);
        Path file = file(bytes);
        assertThatThrownBy(() -> AudioFiles.open(file)).hasMessageContainingAll("promises 68719476735 frames", "bytes");
    }

    @Test
    void theOffsetOfAiffSamplesIsHonoured() throws IOException {
        byte[] aiff = aiff("AIFF", 3, 16, 4, 4, new byte[] {9, 9, 9, 9, 0, 1, -1, -1, 127, -1});
        try (SampleSource source = AudioFiles.open(file(aiff))) {
            assertThat(source.sampleRate()).isEqualTo(44100);
            assertThat(InventedSound.all(source)[0]).containsExactly(1 / 32768.0, -1 / 32768.0, 32767 / 32768.0);
        }
    }

    @Test
    void brokenAiffIsRefused() throws IOException {
        refused(aiff("AIFF", 10, 16, 0, 0, new byte[6]), "cut short", "20 bytes", "10 frames", "6 bytes");
        refused(aiff("AIFF", 0, 16, 0, 0, new byte[6]), "says it has 0 frames, but holds 3");
        refused(aiff("AIFF", 3, 40, 0, 0, new byte[15]), "40 bits");
        refused(aiff("8SVX", 3, 16, 0, 0, new byte[6]), "not an AIFF file");
        byte[] compressed = fixture("noise-16-little.aiff");
        String text = new String(compressed, StandardCharsets.ISO_8859_1).replace("sowt", "ima4");
        refused(text.getBytes(StandardCharsets.ISO_8859_1), "'ima4'", "export it as WAV");
    }

    /** A mono file at 44100 Hz, whose sound chunk says where its samples begin. */
    private static byte[] aiff(String kind, int frames, int bits, int offset, int blockSize, byte[] body) {
        ByteBuffer b = ByteBuffer.allocate(12 + 8 + 18 + 8 + 8 + body.length + body.length % 2);
        b.put("FORM".getBytes(StandardCharsets.US_ASCII)).putInt(b.capacity() - 8);
        b.put(kind.getBytes(StandardCharsets.US_ASCII));
        b.put("COMM".getBytes(StandardCharsets.US_ASCII)).putInt(18);
        b.putShort((short) 1).putInt(frames).putShort((short) bits);
        b.putShort((short) 0x400E).putLong(0xAC44_0000_0000_0000L);
        b.put("SSND".getBytes(StandardCharsets.US_ASCII)).putInt(8 + body.length);
        return b.putInt(offset).putInt(blockSize).put(body).array();
    }

    private static long firstFlacFrame(byte[] bytes) {
        long at = 4;
        boolean last = false;
        while (!last) {
            int block = ByteBuffer.wrap(bytes).getInt((int) at);
            last = block < 0;
            at += 4 + (block & 0xFF_FFFF);
        }
        return at;
    }
}
