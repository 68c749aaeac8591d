package ohmprint.audiofile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Path;
import java.util.HexFormat;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** How the bytes of a frame become samples: valid bits, floats, spare bytes. */
class WavSamplesTest extends WrittenHeaders {
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
}
