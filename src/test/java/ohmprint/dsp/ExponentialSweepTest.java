package ohmprint.dsp;

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

    @ParameterizedTest
    @CsvSource({"48000", "96000"})
    void analyticSpectrumAgreesWithTheTransformAtOneKilohertz(double fs) {
        ExponentialSweep sweep = ExponentialSweep.ofBand(20, 20000, 10, -6, fs);
        Complex ratio =
                transformAt(sweep, 1000).divide(spectrum(transformFrequency(sweep, 1000), Math.pow(10, -6 / 20.0), 10));
        // Bound of the stationary-phase formula for such a sweep: 0.03 % and 0.006°.
        assertThat(ratio.abs()).isCloseTo(1, within(3e-4));
        assertThat(Math.toDegrees(ratio.getArgument())).isCloseTo(0, within(0.006));
    }

    @Test
    void analyticSpectrumIsCloseOverTheMiddleOfTheBand() {
        for (double hz = 60; hz < 15000; hz *= 1.37) {
            Complex ratio = transformAt(SWEEP, hz).divide(spectrum(transformFrequency(SWEEP, hz), 1, 10));
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
        double l = rate(3);
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
        double highest = 20 * Math.exp(end / rate(10));
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
    }

    /** The rate constant L in seconds of a sweep over three decades: T/ln 1000. */
    private static double rate(double seconds) {
        return seconds / Math.log(1000);
    }

    /**
     * Spectrum of a sweep from 20 Hz to 20 kHz without fades, by stationary phase, time origin at f₁:
     * {@code X(f) = (a/2)·√(L/f)·exp{j2πL[f(1 − ln(f/f₁)) − f₁] − jπ/4}} in full scale per hertz. The term −f₁ in the bracket
     * belongs to the −1 in x(t).
     */
    private static Complex spectrum(double hz, double peak, double seconds) {
        double l = rate(seconds);
        double phase = 2 * Math.PI * l * (hz * (1 - Math.log(hz / 20)) - 20) - Math.PI / 4;
        return new Complex(Math.cos(phase), Math.sin(phase)).multiply(0.5 * peak * Math.sqrt(l / hz));
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
