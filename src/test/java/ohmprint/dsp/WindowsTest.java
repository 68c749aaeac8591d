package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

class WindowsTest {
    private static final double ROUNDING = 1e-15;

    // scipy.signal.get_window("hann", 8): periodic, (2 ∓ √2)/4 at the first and third sample (closed form).
    @Test
    void hannIsPeriodic() {
        double a = (2 - Math.sqrt(2)) / 4;
        double b = (2 + Math.sqrt(2)) / 4;
        assertThat(Windows.hann(8)).containsExactly(new double[] {0, a, 0.5, b, 1, b, 0.5, a}, within(ROUNDING));
    }

    @Test
    void hannWindowsOverlappingByHalfAddToOne() {
        double[] w = Windows.hann(256);
        for (int i = 0; i < 128; i++) {
            assertThat(w[i] + w[i + 128]).isCloseTo(1, within(ROUNDING));
        }
    }

    // Mean 1/2 and mean square 3/8 of a periodic Hann window (closed form): equivalent noise bandwidth 1.5 bins.
    @Test
    void hannHasAnEquivalentNoiseBandwidthOfOneAndAHalfBins() {
        double[] w = Windows.hann(64);
        double sum = Arrays.stream(w).sum();
        double energy = Arrays.stream(w).map(v -> v * v).sum();
        assertThat(64 * energy / (sum * sum)).isCloseTo(1.5, within(1e-12));
    }

    @Test
    void fadeOutFallsFromOneToZeroAndIsItsOwnComplement() {
        double[] w = Windows.fadeOut(100);
        for (int i = 0; i < 100; i++) {
            assertThat(w[i] + w[99 - i]).isCloseTo(1, within(ROUNDING));
            assertThat(w[i]).isGreaterThan(i == 99 ? 0 : w[i + 1]);
        }
        assertThat(w[0]).isCloseTo(1, within(1e-4));
        assertThat(Windows.fadeOut(0)).isEmpty();
    }
}
