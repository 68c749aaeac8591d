package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.apache.commons.math3.stat.StatUtils;
import org.jtransforms.fft.DoubleFFT_1D;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class NoiseTest {
    private static final int LONG = 1 << 20;

    @Test
    void sameSeedGivesSameNoiseAndAnotherSeedAnother() {
        assertThat(Noise.pink(5000, 0.1, 48000, 7)).isEqualTo(Noise.pink(5000, 0.1, 48000, 7));
        assertThat(Noise.pink(5000, 0.1, 48000, 7)).isNotEqualTo(Noise.pink(5000, 0.1, 48000, 8));
        assertThat(Noise.whiteGaussian(100, 1, 1)).isNotEqualTo(Noise.whiteGaussian(100, 1, 2));
    }

    @Test
    void seedFixesTheNumbersOnEveryPlatform() {
        // java.util.Random of seed 42: first nextGaussian 1.1419053154730547, widely printed (from memory).
        assertThat(Noise.whiteGaussian(1, 1, 42)[0]).isCloseTo(1.1419053154730547, within(1e-15));
    }

    @Test
    void levelsFollowTheirClosedForms() {
        assertThat(rms(Noise.whiteGaussian(LONG, 0.1, 3))).isCloseTo(0.1, within(0.0003));
        assertThat(rms(Noise.pink(300_000, 0.1, 48000, 3))).isCloseTo(0.1, within(1e-12));
    }

    @Test
    void whiteNoiseHasTheMomentsOfItsDistribution() {
        double[] x = Noise.whiteGaussian(LONG, 1, 5);
        assertThat(StatUtils.mean(x)).isCloseTo(0, within(0.004));
        assertThat(Arrays.stream(x).map(v -> v * v * v * v).average().orElseThrow())
                .isCloseTo(3, within(0.04));
    }

    @ParameterizedTest
    @ValueSource(doubles = {44100, 48000, 96000})
    void pinkNoiseFallsThreeDecibelsAnOctave(double fs) {
        double[] x = Noise.pink(LONG * 2, 0.1, fs, 11);
        double[] power = new double[x.length];
        System.arraycopy(x, 0, power, 0, x.length);
        new DoubleFFT_1D(x.length).realForward(power);
        double previous = Double.NaN;
        for (double low = 20; low * 2 <= 20480; low *= 2) {
            double sum = 0;
            for (int k = (int) (low * x.length / fs); k < 2 * low * x.length / fs; k++) {
                sum += power[2 * k] * power[2 * k] + power[2 * k + 1] * power[2 * k + 1];
            }
            double level = 10 * Math.log10(sum);
            // Density ∝ 1/f: equal power in every octave.
            if (!Double.isNaN(previous)) {
                assertThat(level - previous).as("octave from %s Hz", low).isCloseTo(0, within(0.5));
            }
            previous = level;
        }
    }

    private static double rms(double[] x) {
        return Math.sqrt(StatUtils.sumSq(x) / x.length);
    }
}
