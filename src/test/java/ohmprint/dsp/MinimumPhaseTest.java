package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import ohmprint.impedance.FrequencyBands;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MinimumPhaseTest {
    private static final double[] HZ = FrequencyBands.within(12, 20, 20_000).midbands();
    /** Error of the sum over 1/12 octave, and of a shelf of 6 dB whose slope goes on beyond the grid's ends. */
    private static final double GRID_ERROR_RAD = 8e-3;

    /** (1 + jf/f_z)/(1 + jf/f_p) has the phase atan(f/f_z) − atan(f/f_p): closed form. */
    @ParameterizedTest
    @CsvSource({"500, 1000", "1000, 500", "200, 3000", "60, 90"})
    void followsAShelf(double zeroHz, double poleHz) {
        double[] ln = Arrays.stream(HZ)
                .map(f -> Math.log(Math.hypot(1, f / zeroHz) / Math.hypot(1, f / poleHz)))
                .toArray();
        double[] phase = DelayFit.minimumPhase(HZ, ln);
        for (int i = 0; i < HZ.length; i++) {
            if (HZ[i] > 40 && HZ[i] < 10_000) {
                double expected = Math.atan(HZ[i] / zeroHz) - Math.atan(HZ[i] / poleHz);
                assertThat(phase[i]).as("at %s Hz", HZ[i]).isCloseTo(expected, within(GRID_ERROR_RAD));
            }
        }
    }

    @Test
    void aGainHasNoPhase() {
        double[] ln = new double[HZ.length];
        Arrays.fill(ln, -1.7);
        assertThat(DelayFit.minimumPhase(HZ, ln)).containsOnly(new double[] {0}, within(1e-15));
    }
}
