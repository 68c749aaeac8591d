package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class RealFourierTest {
    /** Double rounding through a transform of a few hundred samples of size 1. */
    private static final double ROUNDING = 1e-12;

    /** X_i = Σ x_n·e^(−j2πin/N), summed term by term. */
    @ParameterizedTest
    @ValueSource(ints = {4, 8, 64, 256})
    void equalsTheSumThatDefinesIt(int n) {
        double[] x = Noise.whiteGaussian(n, 1, n);
        RealFourier fft = RealFourier.ofLength(n);
        double[] packed = x.clone();
        fft.forward(packed);
        for (int i = 0; i <= n / 2; i++) {
            double re = 0;
            double im = 0;
            for (int k = 0; k < n; k++) {
                re += x[k] * Math.cos(2 * Math.PI * i * k / n);
                im -= x[k] * Math.sin(2 * Math.PI * i * k / n);
            }
            assertThat(fft.re(packed, i)).as("real part of bin %d", i).isCloseTo(re, within(n * ROUNDING));
            assertThat(fft.im(packed, i)).as("imaginary part of bin %d", i).isCloseTo(im, within(n * ROUNDING));
        }
    }

    @Test
    void theInverseUndoesTheTransform() {
        double[] x = Noise.whiteGaussian(4096, 1, 3);
        double[] y = x.clone();
        RealFourier fft = RealFourier.ofLength(4096);
        fft.forward(y);
        fft.inverse(y);
        for (int i = 0; i < x.length; i++) {
            assertThat(y[i]).isCloseTo(x[i], within(ROUNDING));
        }
    }

    @ParameterizedTest
    @CsvSource({"0, 4", "4, 4", "5, 8", "8, 8", "48000, 65536", "65536, 65536", "65537, 131072"})
    void lengthForGivesTheNextPowerOfTwo(long count, int length) {
        assertThat(RealFourier.lengthFor(count)).isEqualTo(length);
    }

    @ParameterizedTest
    @ValueSource(ints = {-4, 0, 2, 3, 48000})
    void refusesOtherLengths(int n) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> RealFourier.ofLength(n))
                .withMessageContaining("not " + n);
    }

    @Test
    void refusesMoreThanOneTransformCanHold() {
        assertThat(RealFourier.lengthFor(1 << 30)).isEqualTo(1 << 30);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> RealFourier.lengthFor((1L << 30) + 1))
                .withMessageContaining("too many");
    }
}
