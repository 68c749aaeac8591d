package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Where the samples of a file begin and end, whatever chunks and lengths its header has. */
class WavHeaderTest extends WrittenHeaders {
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
}
