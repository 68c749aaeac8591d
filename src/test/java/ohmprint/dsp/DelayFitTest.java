package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.complex.ComplexUtils;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Delay between the voltages of one source over two resistors. */
class DelayFitTest {
    private static final double[] HZ = FrequencyBands.within(12, 40, 18_000).midbands();
    private static final double SAMPLE = 1 / 48_000.0;
    private static final double SEARCH = 2.6 * SAMPLE;
    private static final double LOAD = 150;
    private static final double PIVOT_LOAD = 1500;
    /** What the estimate states at least, because the magnitude beyond the band is not known. */
    private static final double LEAST_UNCERTAINTY = 2e-6;
    /** Distance in standard uncertainties that still counts as agreement: 99 % of a normal distribution. */
    private static final double COVERAGE = 2.5;

    @ParameterizedTest
    @ValueSource(doubles = {-2, -0.5, 0, 0.25, 1, 1.75})
    void readsADelayBehindAResistiveSourceExactly(double samples) {
        DelayFit fit = fit(200, 0, samples * SAMPLE, 0, 1);
        assertThat(fit.seconds() / SAMPLE).isCloseTo(samples, within(1e-9));
        assertThat(fit.standardUncertainty()).isBetween(LEAST_UNCERTAINTY, 1.1 * LEAST_UNCERTAINTY);
    }

    @Test
    void readsAQuarterOfASampleThroughNoiseWithinWhatItStates() {
        int sessions = 200;
        int inside = 0;
        double scatter = 0;
        for (int seed = 0; seed < sessions; seed++) {
            DelayFit fit = fit(200, 0, 0.25 * SAMPLE, 0.05, seed);
            double error = fit.seconds() - 0.25 * SAMPLE;
            scatter += error * error / sessions;
            inside += Math.abs(error) < 2 * fit.standardUncertainty() ? 1 : 0;
        }
        // A floor of two microseconds is in the statement, so that it holds more often than 95 %.
        assertThat(inside).isGreaterThanOrEqualTo((int) (0.93 * sessions));
        // Weighted phase slope: sd of τ = sd(φ)/√Σω² (closed form).
        double omega2 = Arrays.stream(HZ).map(f -> Math.pow(2 * Math.PI * f, 2)).sum();
        assertThat(Math.sqrt(scatter)).isCloseTo(0.05 / Math.sqrt(omega2), within(0.2 * 0.05 / Math.sqrt(omega2)));
    }

    /**
     * Without the minimum-phase part an inductive source reads as a delay: the line through the phase of the ratio alone
     * gives more than a microsecond where there is none. What the magnitude beyond the band would have told is missing.
     */
    @ParameterizedTest
    @CsvSource({"200, 0.0005", "200, 0.001", "200, 0.002", "300, 0.001", "50, 0.0008"})
    void anInductiveSourceIsNotTakenForADelay(double ohm, double henries) {
        DelayFit fit = fit(ohm, henries, 0, 0, 1);
        assertThat(Math.abs(fit.seconds())).isLessThan(COVERAGE * fit.standardUncertainty());
        assertThat(Math.abs(fit.seconds())).isLessThan(Math.abs(naive(ohm, henries)));
        assertThat(fit.standardUncertainty()).isLessThan(0.25 * SAMPLE);
    }

    @ParameterizedTest
    @ValueSource(doubles = {-1, 0.25, 1})
    void findsTheDelayBehindAnInductiveSource(double samples) {
        DelayFit fit = fit(200, 0.001, samples * SAMPLE, 0, 1);
        assertThat(fit.seconds()).isCloseTo(samples * SAMPLE, within(COVERAGE * fit.standardUncertainty()));
    }

    @Test
    void bandsWithoutEvidenceAreLeftOut() {
        double[] re = new double[HZ.length];
        double[] im = new double[HZ.length];
        double[] sd = new double[HZ.length];
        ratios(200, 0, 0.25 * SAMPLE, re, im);
        Arrays.fill(sd, 0.01);
        for (int i : new int[] {0, 1, 30, 31, 60, HZ.length - 1}) {
            sd[i] = Double.POSITIVE_INFINITY;
            re[i] = i == 30 ? Double.NaN : -7;
            im[i] = 3;
        }
        assertThat(DelayFit.of(HZ, re, im, sd, SEARCH).seconds()).isCloseTo(0.25 * SAMPLE, within(1e-9 * SAMPLE));
        Arrays.fill(sd, Double.POSITIVE_INFINITY);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> DelayFit.of(HZ, re, im, sd, SEARCH))
                .withMessageContaining("no band is usable");
    }

    private static DelayFit fit(double ohm, double henries, double delay, double phaseSd, long seed) {
        double[] re = new double[HZ.length];
        double[] im = new double[HZ.length];
        ratios(ohm, henries, delay, re, im);
        Random random = new Random(seed);
        double[] sd = new double[HZ.length];
        Arrays.fill(sd, phaseSd > 0 ? phaseSd : 1e-4);
        for (int i = 0; i < HZ.length; i++) {
            Complex turned =
                    new Complex(re[i], im[i]).multiply(ComplexUtils.polar2Complex(1, phaseSd * random.nextGaussian()));
            re[i] = turned.getReal();
            im[i] = turned.getImaginary();
        }
        return DelayFit.of(HZ, re, im, sd, SEARCH);
    }

    private static void ratios(double ohm, double henries, double delay, double[] re, double[] im) {
        for (int i = 0; i < HZ.length; i++) {
            double omega = 2 * Math.PI * HZ[i];
            Complex z = new Complex(ohm, omega * henries);
            Complex ratio = z.divide(PIVOT_LOAD).add(1).divide(z.divide(LOAD).add(1));
            Complex late = ratio.multiply(new Complex(0, -omega * delay).exp());
            re[i] = late.getReal();
            im[i] = late.getImaginary();
        }
    }

    /** Least-squares slope of the phase alone, −Σωφ/Σω². */
    private static double naive(double ohm, double henries) {
        double[] re = new double[HZ.length];
        double[] im = new double[HZ.length];
        ratios(ohm, henries, 0, re, im);
        double top = 0;
        double bottom = 0;
        for (int i = 0; i < HZ.length; i++) {
            double omega = 2 * Math.PI * HZ[i];
            top -= omega * Math.atan2(im[i], re[i]);
            bottom += omega * omega;
        }
        return top / bottom;
    }
}
