package ohmprint.audiodevice;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Integers of a line, to and fro. */
class PcmFramesTest {
    @ParameterizedTest
    @ValueSource(ints = {16, 24, 32})
    void everyIntegerComesBackAsItWas(int bits) {
        Lines.PcmFrames pcm = new Lines.PcmFrames(1, bits);
        double steps = Math.scalb(1.0, bits - 1);
        Random random = new Random(bits);
        double[] x = new double[1000];
        for (int i = 0; i < x.length; i++) {
            x[i] = (random.nextInt() >> (32 - bits)) / steps;
        }
        x[0] = -1;
        x[1] = (steps - 1) / steps;
        byte[] bytes = new byte[x.length * pcm.frameBytes()];
        pcm.encode(x, 0, x.length, bytes);
        double[][] back = new double[1][x.length];
        pcm.decode(bytes, x.length, back);
        assertThat(back[0]).containsExactly(x);
    }

    /** Two's complement, least significant byte first: the meaning of a signed little-endian line. */
    @Test
    void theBytesAreLittleEndianTwosComplement() {
        Lines.PcmFrames pcm = new Lines.PcmFrames(2, 24);
        byte[] bytes = new byte[6];
        pcm.encode(new double[] {0, -0x123456 / (double) (1 << 23)}, 1, 1, bytes);
        assertThat(bytes).containsExactly(0xAA, 0xCB, 0xED, 0xAA, 0xCB, 0xED);
        double[][] back = new double[2][1];
        pcm.decode(new byte[] {0x01, 0x00, 0x00, (byte) 0xFF, (byte) 0xFF, (byte) 0xFF}, 1, back);
        assertThat(back[0][0]).isEqualTo(1.0 / (1 << 23));
        assertThat(back[1][0]).isEqualTo(-1.0 / (1 << 23));
    }

    @Test
    void whatExceedsFullScaleIsLimited() {
        Lines.PcmFrames pcm = new Lines.PcmFrames(1, 16);
        byte[] bytes = new byte[4];
        pcm.encode(new double[] {1.5, -1.5}, 0, 2, bytes);
        double[][] back = new double[1][2];
        pcm.decode(bytes, 2, back);
        assertThat(back[0]).containsExactly(32_767 / 32_768.0, -1);
    }
}
