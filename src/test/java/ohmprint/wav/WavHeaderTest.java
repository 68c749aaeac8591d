package ohmprint.wav;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HexFormat;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Headers written byte by byte, as recorders leave them; expected samples follow from the format's definition. */
class WavHeaderTest {
    /** 16-bit stereo frames (1, −2), (32767, −32768), (256, 3). */
    private static final byte[] THREE = {1, 0, -2, -1, -1, 127, 0, -128, 0, 1, 3, 0};

    private static final double[][] THREE_SAMPLES = {
        {1 / 32768.0, 32767 / 32768.0, 256 / 32768.0}, {-2 / 32768.0, -1, 3 / 32768.0}
    };

    @TempDir
    Path folder = Path.of(".");

    private Path file(byte[] bytes) throws IOException {
        return Files.write(folder.resolve("take-1.wav"), bytes);
    }

    private double[][] read(WavBytes wav) throws IOException {
        return read(wav.bytes());
    }

    private double[][] read(byte[] bytes) throws IOException {
        try (WavReader reader = WavReader.open(file(bytes))) {
            return InventedSound.all(reader);
        }
    }

    private static WavBytes stereo16() {
        return WavBytes.riff().fmt(1, 2, 48000, 4, 16);
    }

    private void refused(byte[] bytes, String... parts) throws IOException {
        Path file = file(bytes);
        assertThatThrownBy(() -> WavReader.open(file))
                .isInstanceOf(AudioFormatException.class)
                .hasMessageContaining("take-1.wav: ")
                .hasMessageContainingAll(parts)
                .hasMessageContaining("; ");
    }

    @Test
    void samplesAreReadWhateverChunksStandAround() throws IOException {
        byte[] large = new byte[100_001];
        Arrays.fill(large, (byte) 'd');
        WavBytes wav = WavBytes.riff()
                .chunk("bext", large)
                .chunk("JUNK", new byte[28])
                .fmt(1, 2, 48000, 4, 16)
                .chunk("LIST", (byte) 7)
                .chunk("fact", new byte[4])
                .chunk("data", THREE)
                .chunk("cue ", new byte[5])
                .chunk("bext", large);
        assertThat(read(wav)).isDeepEqualTo(THREE_SAMPLES);
    }

    @Test
    void samplesMayComeBeforeTheirFormat() throws IOException {
        assertThat(read(WavBytes.riff().chunk("data", THREE).fmt(1, 2, 48000, 4, 16)))
                .isDeepEqualTo(THREE_SAMPLES);
    }

    @Test
    void aForgottenPaddingByteIsNoticed() throws IOException {
        WavBytes wav = stereo16().raw("LIST\3\0\0\0abc".getBytes("US-ASCII")).chunk("data", THREE);
        assertThat(read(wav)).isDeepEqualTo(THREE_SAMPLES);
    }

    @Test
    void aPaddingByteMayHoldAnything() throws IOException {
        WavBytes wav = stereo16().raw("LIST\3\0\0\0abcX".getBytes("US-ASCII")).chunk("data", THREE);
        assertThat(read(wav)).isDeepEqualTo(THREE_SAMPLES);
    }

    @Test
    void anOddNumberOfSampleBytesIsFollowedByPadding() throws IOException {
        WavBytes wav = WavBytes.riff().fmt(1, 1, 8000, 1, 8).chunk("data", (byte) 0, (byte) 128, (byte) 255);
        assertThat(read(wav.chunk("LIST", (byte) 1))).isDeepEqualTo(new double[][] {{-1, 0, 127 / 128.0}});
    }

    @ParameterizedTest
    @ValueSource(longs = {0, 0xFFFF_FFFFL})
    void aStreamedFileIsReadToItsEnd(long size) throws IOException {
        assertThat(read(stereo16().chunkOf("data", size, THREE))).isDeepEqualTo(THREE_SAMPLES);
    }

    @ParameterizedTest
    @ValueSource(longs = {0, 0xFFFF_FFFFL})
    void notesAfterAStreamedFileAreNoSamples(long size) throws IOException {
        WavBytes wav = stereo16().chunkOf("data", size, THREE).chunk("LIST", new byte[21]);
        assertThat(read(wav.chunk("xtra", new byte[9]))).isDeepEqualTo(THREE_SAMPLES);
    }

    @Test
    void anEmptyRecordingHasNoFrames() throws IOException {
        assertThat(read(stereo16().chunk("data"))[0]).isEmpty();
        assertThat(read(stereo16().chunk("data").chunk("LIST", new byte[20]))[0])
                .isEmpty();
    }

    @Test
    void bytesBeyondTheLastWholeFrameAreDropped() throws IOException {
        byte[] cut = Arrays.copyOf(THREE, 11);
        assertThat(read(stereo16().chunk("data", cut))[0]).hasSize(2);
        assertThat(read(stereo16().chunkOf("data", 0, cut))[0]).hasSize(3);
    }

    @Test
    void aFileCutShortIsRefusedUnlessAskedFor() throws IOException {
        byte[] bytes = stereo16().chunkOf("data", 400, THREE).bytes();
        refused(bytes, "cut short", "400 bytes", "100 frames", "12 bytes", "3 frames", "copy it again");
        try (WavReader reader = WavReader.openTruncated(file(bytes))) {
            assertThat(reader.truncated()).isTrue();
            assertThat(reader.promisedFrames()).isEqualTo(100);
            assertThat(InventedSound.all(reader)).isDeepEqualTo(THREE_SAMPLES);
        }
        try (WavReader reader =
                WavReader.openTruncated(file(stereo16().chunk("data", THREE).bytes()))) {
            assertThat(reader.truncated()).isFalse();
        }
    }

    @Test
    void rf64TakesItsLengthFromDs64() throws IOException {
        WavBytes wav = new WavBytes("RF64").ds64(12, "LIST", 6).fmt(1, 2, 48000, 4, 16);
        wav.chunkOf("LIST", 0xFFFF_FFFFL, new byte[6]).chunkOf("data", 0xFFFF_FFFFL, THREE);
        assertThat(read(wav.chunk("bext", new byte[40]))).isDeepEqualTo(THREE_SAMPLES);
    }

    @Test
    void bw64WithoutALengthIsReadToItsEnd() throws IOException {
        WavBytes wav = new WavBytes("BW64").ds64(-1, "", 0).fmt(1, 2, 48000, 4, 16);
        assertThat(read(wav.chunkOf("data", 0xFFFF_FFFFL, THREE))).isDeepEqualTo(THREE_SAMPLES);
    }

    @Test
    void impossibleLargeLengthsAreRefused() throws IOException {
        WavBytes huge = new WavBytes("RF64").ds64(Long.MAX_VALUE, "", 0).fmt(1, 2, 48000, 4, 16);
        refused(huge.chunkOf("data", 0xFFFF_FFFFL, THREE).bytes(), "cut short", "9223372036854775807 bytes");
        WavBytes negative = new WavBytes("RF64").ds64(-5, "", 0).fmt(1, 2, 48000, 4, 16);
        refused(negative.chunkOf("data", 0xFFFF_FFFFL, THREE).bytes(), "18446744073709551611 bytes");
        WavBytes missing = new WavBytes("RF64").fmt(1, 2, 48000, 4, 16);
        refused(missing.chunkOf("data", 0xFFFF_FFFFL, THREE).bytes(), "without its ds64 chunk");
    }

    @ParameterizedTest
    @CsvSource({
        // container bits, valid bits, bytes of one sample, integer value of that sample
        "8, 8, 00, -128",
        "8, 6, FC, 31",
        "16, 16, 0180, -32767",
        "16, 12, 1F80, -2047",
        "24, 24, 010080, -8388607",
        "24, 20, 1F0080, -524287",
        "24, 20, F0FFFF, -1",
        "32, 32, 01000080, -2147483647",
        "32, 24, FF010080, -8388607",
        "32, 20, FF1FFF7F, 524273",
        "32, 24, 00FFFF7F, 8388607",
    })
    void validBitsSitAtTheTopOfTheirContainer(int container, int valid, String hex, long value) throws IOException {
        byte[] sample = HexFormat.of().parseHex(hex);
        double[][] got =
                read(WavBytes.riff().extensible(1, 1, 48000, container, valid).chunk("data", sample));
        assertThat(got[0]).containsExactly(value / Math.pow(2, valid - 1));
    }

    @Test
    void aPlainHeaderMayNameBitsThatFillNoBytes() throws IOException {
        byte[] twelve = {(byte) 0xF0, (byte) 0xFF, 0x10, 0x40};
        assertThat(read(WavBytes.riff().fmt(1, 1, 48000, 2, 12).chunk("data", twelve))[0])
                .containsExactly(-1 / 2048.0, 1025 / 2048.0);
    }

    @Test
    void floatsAreTakenAsTheyAre() throws IOException {
        ByteBuffer four = WavBytes.little(8).putFloat(0.1f).putFloat(-3.5f);
        assertThat(read(WavBytes.riff().extensible(3, 1, 48000, 32, 32).chunk("data", four.array()))[0])
                .containsExactly(0.1f, -3.5);
        ByteBuffer eight = WavBytes.little(16).putDouble(0.1).putDouble(Double.MIN_VALUE);
        assertThat(read(WavBytes.riff().fmt(3, 2, 48000, 16, 64).chunk("data", eight.array())))
                .isDeepEqualTo(new double[][] {{0.1}, {Double.MIN_VALUE}});
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.NEGATIVE_INFINITY})
    void aFloatThatIsNoNumberIsNamedWithItsPlace(double wrong) throws IOException {
        ByteBuffer four = WavBytes.little(24);
        four.putFloat(1).putFloat(2).putFloat(3).putFloat(4).putFloat(5).putFloat((float) wrong);
        Path file = file(WavBytes.riff()
                .fmt(3, 2, 48000, 8, 32)
                .chunk("data", four.array())
                .bytes());
        try (WavReader reader = WavReader.open(file)) {
            reader.skip(1);
            assertThatThrownBy(() -> reader.read(new double[2][2], 0, 2))
                    .isInstanceOf(AudioFormatException.class)
                    .hasMessageContainingAll("take-1.wav", String.valueOf(wrong), "frame 2, channel 2");
        }
    }

    @Test
    void spareBytesAtTheEndOfAFrameAreSteppedOver() throws IOException {
        byte[] spare = {1, 0, -2, -1, 9, 9, -1, 127, 0, -128, 8, 8, 0, 1, 3, 0, 7, 7};
        assertThat(read(WavBytes.riff().fmt(1, 2, 48000, 6, 16).chunk("data", spare)))
                .isDeepEqualTo(THREE_SAMPLES);
        byte[] empty = {1, 0, 0, 0, -2, -1, 0, 0};
        assertThat(read(WavBytes.riff().fmt(1, 1, 48000, 4, 16).chunk("data", empty))[0])
                .containsExactly(1 / 32768.0, -2 / 32768.0);
    }

    @Test
    void samplesThatMayLieInWiderContainersAreNotGuessed() throws IOException {
        byte[] bytes = {0, 0, 1, 0, 0, 0, -2, -1};
        Path file = file(
                WavBytes.riff().fmt(1, 1, 48000, 4, 16).chunk("data", bytes).bytes());
        try (WavReader reader = WavReader.open(file)) {
            assertThatThrownBy(() -> reader.read(new double[1][2], 0, 2))
                    .isInstanceOf(AudioFormatException.class)
                    .hasMessageContainingAll("16 bits per sample", "4 bytes per frame", "frame 0");
        }
    }

    @Test
    void aSecondRunOfSamplesIsRefused() throws IOException {
        refused(
                stereo16()
                        .chunk("data", THREE)
                        .chunk("LIST", new byte[4])
                        .chunk("data", THREE)
                        .bytes(),
                "second data chunk at byte 68",
                "byte 36",
                "single run");
    }

    @ParameterizedTest
    @CsvSource({
        "7, 8, µ-law, 0x0007",
        "6, 8, A-law, 0x0006",
        "2, 4, ADPCM, 0x0002",
        "17, 4, IMA ADPCM, 0x0011",
        "85, 0, MPEG layer 3, 0x0055",
        "4660, 16, unknown, 0x1234"
    })
    void compressedSamplesAreRefusedByName(int tag, int bits, String name, String hex) throws IOException {
        refused(
                WavBytes.riff().fmt(tag, 1, 8000, 1, bits).chunk("data", THREE).bytes(),
                name + " samples",
                hex,
                "export it as WAV");
        refused(
                WavBytes.riff()
                        .extensible(tag, 1, 8000, 8, 8)
                        .chunk("data", THREE)
                        .bytes(),
                name + " samples",
                hex);
    }

    @Test
    void formsThatAreNotWavAreRefusedByName() throws IOException {
        refused(new WavBytes("RIFX").fmt(1, 1, 8000, 1, 8).bytes(), "big-endian RIFF (RIFX)", "export it");
        refused("RIFF\4\0\0\0AVI ".getBytes("US-ASCII"), "not one that holds WAVE");
        refused("RIFF".getBytes("US-ASCII"), "only 4 bytes long");
        refused("not sound at all".getBytes("US-ASCII"), "not a RIFF file");
    }

    @Test
    void headersThatContradictThemselvesAreRefused() throws IOException {
        refused(WavBytes.riff().chunk("data", THREE).bytes(), "no fmt chunk");
        refused(stereo16().bytes(), "no data chunk");
        refused(stereo16().fmt(1, 2, 48000, 4, 16).chunk("data", THREE).bytes(), "two fmt chunks");
        refused(WavBytes.riff().chunk("fmt ", new byte[14]).bytes(), "fmt chunk of 14 bytes");
        refused(WavBytes.riff().fmt(1, 0, 48000, 4, 16).bytes(), "0 channels");
        refused(WavBytes.riff().fmt(1, 2, 0, 4, 16).bytes(), "0 Hz");
        refused(WavBytes.riff().fmt(1, 2, 48000, 3, 16).bytes(), "3 bytes per frame", "need 4");
        refused(WavBytes.riff().fmt(1, 60000, 48000, 4, 16).bytes(), "60000 channels", "need 120000");
        refused(WavBytes.riff().fmt(1, 1, 48000, 8, 64).bytes(), "integer samples of 64 bits");
        refused(WavBytes.riff().fmt(3, 1, 48000, 2, 16).bytes(), "float samples of 16 bits");
        refused(WavBytes.riff().extensible(1, 1, 48000, 16, 24).bytes(), "24 valid bits in samples of 16");
        refused(stereo16().raw(new byte[40]).bytes(), "no chunk at byte 36");
        refused(stereo16().chunkOf("bext", 5000, new byte[100]).bytes(), "inside its bext chunk", "5000", "100");
        byte[] empties = new byte[8 * 70_000];
        for (int i = 0; i < empties.length; i += 8) {
            System.arraycopy(new byte[] {'J', 'U', 'N', 'K'}, 0, empties, i, 4);
        }
        refused(stereo16().raw(empties).bytes(), "more than 65536 chunks");
    }

    @Test
    void aMissingFileAndAFolderAreNamed() {
        assertThatThrownBy(() -> WavReader.open(folder.resolve("take-9.wav")))
                .isInstanceOf(AudioFormatException.class)
                .hasMessageContainingAll("take-9.wav", "does not exist", "check the name");
        assertThatThrownBy(() -> WavReader.open(folder))
                .isInstanceOf(AudioFormatException.class)
                .hasMessageContaining("is a folder");
    }
}
