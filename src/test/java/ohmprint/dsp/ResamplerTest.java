package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ResamplerTest {
    private static final double RATE = 48_000;
    private static final double RATIO = 1 + 50e-6;
    /** Stated for frequencies up to 0.46 of the sample rate. */
    private static final double STATED = 3e-6;

    private static final int EDGE = 60;

    /** A sine at other instants is a sine: the closed form. */
    @ParameterizedTest
    @ValueSource(doubles = {20, 1000, 5000, 12_000, 17_000, 20_000, 0.46 * 48_000})
    void aSineIsTheSineAtTheNewInstants(double hz) {
        double[] x = sine(hz, 1, 60_000);
        double[] wanted = sine(hz, RATIO, 60_000);
        double[] y = Resampler.of(x, RATIO);
        double worst = 0;
        for (int i = EDGE; i < y.length - EDGE; i++) {
            worst = Math.max(worst, Math.abs(y[i] - wanted[i]));
        }
        assertThat(worst).isLessThan(STATED);
    }

    @Test
    void theSameClockChangesNothing() {
        double[] x = Noise.whiteGaussian(5000, 0.1, 4);
        assertThat(Resampler.of(x, 1)).containsExactly(x, org.assertj.core.api.Assertions.within(1e-15));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.9, 1.02, Double.NaN})
    void refusesWhatIsNoClockOfTheSameRate(double ratio) {
        assertThatIllegalArgumentException().isThrownBy(() -> Resampler.of(new double[100], ratio));
    }

    private static double[] sine(double hz, double ratio, int frames) {
        double[] x = new double[frames];
        for (int i = 0; i < frames; i++) {
            x[i] = Math.sin(2 * Math.PI * hz / RATE * i * ratio);
        }
        return x;
    }
}
