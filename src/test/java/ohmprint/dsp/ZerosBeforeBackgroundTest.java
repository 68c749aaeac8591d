package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

/** A recorder that begins with zeros: 0.3 s of them, then background, then the sound at 1.1 s. */
class ZerosBeforeBackgroundTest {
    private static final int RATE = 48_000;
    private static final int ONSET = (int) (1.1 * RATE);
    /** Blocks are 10 ms long. */
    private static final long BLOCK = RATE / 100;

    @Test
    void theSoundBeginsBehindTheBackground() {
        double[] take = Noise.whiteGaussian(3 * RATE, 1e-4, 9);
        for (int i = ONSET; i < take.length; i++) {
            take[i] += 0.2 * Math.sin(2 * Math.PI * 440 * i / RATE);
        }
        Arrays.fill(take, 0, (int) (0.3 * RATE), 0);
        assertThat(onset(take)).isCloseTo(ONSET, within(2 * BLOCK));
    }

    @Test
    void withoutBackgroundItBeginsBehindTheZeros() {
        double[] take = new double[3 * RATE];
        for (int i = ONSET; i < take.length; i++) {
            take[i] = 0.2 * Math.sin(2 * Math.PI * 440 * i / RATE);
        }
        assertThat(onset(take)).isCloseTo(ONSET, within(2 * BLOCK));
    }

    private static long onset(double[] take) {
        return ArraySource.scan(RATE, take).onsetFrame().orElseThrow();
    }
}
