package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class TimingCheckTest {
    private static final double RATE = 48_000;
    private static final double FROM = 40;
    private static final double TO = 18_000;
    private static final double VARIANCE = 1e-6;
    private static final double[] HZ = CircuitBins.frequencies(FROM * 0.95, TO * 1.05, 4000);
    private static final LoadedTakes TAKES =
            CircuitBins.resistors(InputImpedance.ofOhms(3000, 0, 470, 0), 150, 1500, 680);
    private static final int PIVOT = 1;
    private static final SourceModel COIL = new MovingCoil(200, LossyInductor.ofHenries(0.001), null);
    /** What may remain between takes on one clock, seconds. */
    private static final double ONE_CLOCK = 1e-9;

    @ParameterizedTest
    @CsvSource({"0, 0", "1, 0", "-1, 2", "2, -2"})
    void wholeSamplesAreSnapped(int first, int third) {
        TimingCheck timing = check(COIL, first, third);
        for (int k = 0; k < 3; k++) {
            assertThat(timing.isFraction(k)).as("take %d", k).isFalse();
        }
        assertThat(timing.seconds()).containsExactly(new double[] {first / RATE, 0, third / RATE}, within(1e-15));
        assertThat(timing.uncertainty()).containsExactly(ONE_CLOCK, 0, ONE_CLOCK);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.25, 0.5, -0.4, 1.3})
    void aFractionOfASampleIsKeptAsEstimated(double samples) {
        TimingCheck timing = check(CircuitBins.constant(200, 0), samples, 0);
        assertThat(timing.isFraction(0)).isTrue();
        assertThat(timing.isFraction(2)).isFalse();
        double u = timing.uncertainty()[0];
        assertThat(u).isGreaterThan(ONE_CLOCK).isEqualTo(timing.estimates()[0].standardUncertainty());
        assertThat(timing.seconds()[0]).isCloseTo(samples / RATE, within(2.5 * u));
        assertThat(timing.seconds()[2]).isZero();
    }

    @Test
    void takingTheDelayOutRestoresTheImpedance() {
        BinObservations obs = CircuitBins.of(COIL, TAKES, VARIANCE)
                .withDelay(0, 1 / RATE)
                .withDelay(2, -2 / RATE)
                .exact(HZ);
        BinObservations aligned =
                obs.advanced(TimingCheck.of(obs, PIVOT, RATE, FROM, TO, true).seconds());
        BinObservations plain = CircuitBins.of(COIL, TAKES, VARIANCE).exact(HZ);
        for (int i = 0; i < HZ.length; i += 97) {
            for (int k = 0; k < 3; k++) {
                assertThat(aligned.re(i, k, PIVOT)).isCloseTo(plain.re(i, k, PIVOT), within(1e-9));
                assertThat(aligned.im(i, k, PIVOT)).isCloseTo(plain.im(i, k, PIVOT), within(1e-9));
            }
        }
    }

    private static TimingCheck check(SourceModel source, double firstSamples, double thirdSamples) {
        BinObservations obs = CircuitBins.of(source, TAKES, VARIANCE)
                .withDelay(0, firstSamples / RATE)
                .withDelay(2, thirdSamples / RATE)
                .noisy(CircuitBins.seeded(11), HZ);
        return TimingCheck.of(obs, PIVOT, RATE, FROM, TO, true);
    }
}
