package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Delays of the parts of a sound. */
class SegmentDelaysTest {
    private static final int RATE = 48_000;

    private static double[] recording(double[] sound, int delay, int gapAt, int gap, double noise) {
        double[] y = Noise.whiteGaussian(sound.length + delay + gap + RATE, noise, 5);
        for (int i = 0; i < sound.length; i++) {
            y[delay + i + (i < gapAt ? 0 : gap)] += sound[i];
        }
        return y;
    }

    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void partsOfOnePieceHaveOneDelay(boolean sweep) {
        double[] sound = sweep
                ? ExponentialSweep.ofBand(20, 20_000, 3, -20, RATE).samples()
                : Noise.pink(3 * RATE, 0.03, RATE, 3);
        List<SegmentDelays.Segment> parts = SegmentDelays.of(sound, recording(sound, 12_345, 0, 0, 0.001), RATE, 4);
        assertThat(parts).hasSize(4).allSatisfy(p -> {
            assertThat(p.delayFrames()).isBetween(12_344L, 12_346L);
            assertThat(p.prominence()).isGreaterThan(20);
        });
    }

    @Test
    void partsBehindAGapAreLater() {
        double[] sound = ExponentialSweep.ofBand(20, 20_000, 3, -20, RATE).samples();
        List<SegmentDelays.Segment> parts =
                SegmentDelays.of(sound, recording(sound, 5000, sound.length / 2, 480, 0.001), RATE, 4);
        assertThat(parts.get(0).delayFrames()).isEqualTo(5000);
        assertThat(parts.get(1).delayFrames()).isEqualTo(5000);
        assertThat(parts.get(2).delayFrames()).isEqualTo(5480);
        assertThat(parts.get(3).delayFrames()).isEqualTo(5480);
    }

    @Test
    void noiseHoldsNoPart() {
        double[] sound = ExponentialSweep.ofBand(20, 20_000, 3, -20, RATE).samples();
        assertThat(SegmentDelays.of(sound, Noise.whiteGaussian(5 * RATE, 0.1, 9), RATE, 4))
                .allSatisfy(p -> assertThat(p.prominence()).isLessThan(8));
    }
}
