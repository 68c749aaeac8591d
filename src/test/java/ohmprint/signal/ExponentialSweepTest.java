package ohmprint.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.complex.Complex;
import org.jtransforms.fft.DoubleFFT_1D;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ExponentialSweepTest {
    private static final ExponentialSweep SWEEP = ExponentialSweep.ofBand(20, 20000, 10, 0, 48000);

    @Test
    void rateConstantOfTenSecondsOverThreeDecades() {
        // T/ln(f2/f1) = 10/ln 1000; closed form, computed separately.
        assertThat(SWEEP.rateSeconds()).isCloseTo(1.447648, within(5e-7));
    }

    @ParameterizedTest
    @CsvSource({"1, 0", "2, 1.003", "3, 1.590", "4, 2.007", "5, 2.330"})
    void harmonicsLeadByTheirLogarithm(int order, double seconds) {
        // Farina 2000 and Novak et al. 2015: L·ln n; figures computed separately.
        assertThat(SWEEP.harmonicLeadSeconds(order)).isCloseTo(seconds, within(5e-4));
    }

    @ParameterizedTest
    @CsvSource({"48000", "96000"})
    void analyticSpectrumAgreesWithTheTransformAtOneKilohertz(double fs) {
        ExponentialSweep sweep = ExponentialSweep.ofBand(20, 20000, 10, -6, fs);
        Complex ratio = transformAt(sweep, 1000).divide(sweep.spectrum(transformFrequency(sweep, 1000)));
        // Bound of the stationary-phase formula for such a sweep: 0.03 % and 0.006°.
        assertThat(ratio.abs()).isCloseTo(1, within(3e-4));
        assertThat(Math.toDegrees(ratio.getArgument())).isCloseTo(0, within(0.006));
    }

    @Test
    void analyticSpectrumIsCloseOverTheMiddleOfTheBand() {
        for (double hz = 60; hz < 15000; hz *= 1.37) {
            Complex ratio = transformAt(SWEEP, hz).divide(SWEEP.spectrum(transformFrequency(SWEEP, hz)));
            assertThat(ratio.abs()).as("%s Hz", hz).isCloseTo(1, within(3e-3));
            assertThat(ratio.getArgument()).as("%s Hz", hz).isCloseTo(0, within(3e-3));
        }
    }

    @ParameterizedTest
    @CsvSource({"44100", "48000", "96000", "192000"})
    void amplitudeIsFullThroughoutTheBandAndZeroAtTheEnds(double fs) {
        ExponentialSweep sweep = ExponentialSweep.ofBand(20, 20000, 3, -6, fs);
        double[] x = sweep.samples();
        double a = Math.pow(10, -6 / 20.0);
        double l = sweep.rateSeconds();
        assertThat(x).hasSize(sweep.frames());
        assertThat(x[0]).isEqualTo(0);
        assertThat(x[x.length - 1]).isCloseTo(0, within(1e-15));
        for (int n = 0; n <= 3 * fs; n += 17) {
            double t = n / fs;
            // The formula of the sweep itself, without any fade.
            double expected = a * Math.sin(2 * Math.PI * 20 * l * (Math.exp(t / l) - 1));
            assertThat(x[n + sweep.framesBefore()]).isCloseTo(expected, within(1e-9));
        }
    }

    @Test
    void extensionEndsBelowTheNyquistFrequency() {
        ExponentialSweep sweep = ExponentialSweep.ofBand(20, 20000, 10, 0, 44100);
        double end = (sweep.frames() - 1 - sweep.framesBefore()) / 44100.0;
        double highest = 20 * Math.exp(end / sweep.rateSeconds());
        assertThat(highest).isGreaterThan(20000).isLessThan(22050);
    }

    @Test
    void refusesWhatCannotBePlayedAndSaysWhatToDo() {
        assertThatThrownBy(() -> ExponentialSweep.ofBand(20, 21500, 10, 0, 44100))
                .hasMessageContaining("21500.0 Hz")
                .hasMessageContaining("end it at");
        assertThatThrownBy(() -> ExponentialSweep.ofBand(2000, 20, 10, 0, 48000))
                .hasMessageContaining("lower");
        assertThatThrownBy(() -> ExponentialSweep.ofBand(20, 2000, 10, 1, 48000))
                .hasMessageContaining("full scale");
        assertThatThrownBy(() -> SWEEP.harmonicLeadSeconds(0)).hasMessageContaining("fundamental");
    }

    private static int size(ExponentialSweep sweep) {
        return Integer.highestOneBit(sweep.frames()) << 1;
    }

    private static double transformFrequency(ExponentialSweep sweep, double hz) {
        return Math.round(hz * size(sweep) / sweep.sampleRate()) * sweep.sampleRate() / size(sweep);
    }

    /** The discrete transform over the sample rate at the bin next to a frequency, time origin at f1. */
    private static Complex transformAt(ExponentialSweep sweep, double hz) {
        int size = size(sweep);
        double[] y = new double[size];
        double[] x = sweep.samples();
        for (int n = 0; n < x.length; n++) {
            y[Math.floorMod(n - sweep.framesBefore(), size)] = x[n];
        }
        new DoubleFFT_1D(size).realForward(y);
        int k = (int) Math.round(hz * size / sweep.sampleRate());
        return new Complex(y[2 * k], y[2 * k + 1]).divide(sweep.sampleRate());
    }
}
