package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Noise, a tone from 0.5 s to 2 s, noise again: what the background does meanwhile. */
class NoiseModulationMeterTest {
    private static final int RATE = 48_000;
    private static final int ONSET = RATE / 2;
    private static final double NOISE_RMS = 1e-4;
    /** What chance does to a quarter of a second of four bands of noise. */
    private static final double CHANCE_DB = 0.5;

    @ParameterizedTest
    @CsvSource({"1, 1", "1, 3", "44100, 1"})
    void aGainThatFallsTakesTheBackgroundWithIt(int chunk, int stride) {
        double[] take = take(0.5, 0.2);
        NoiseModulationMeter meter = new NoiseModulationMeter(RATE, stride);
        for (int i = 0; i < take.length; i += chunk) {
            meter.accept(take, i, Math.min(take.length, i + chunk));
        }
        assertThat(meter.dropDb(0, ONSET)).isCloseTo(6.02, within(CHANCE_DB));
    }

    @Test
    void soundOverASteadyBackgroundIsNoFall() {
        NoiseModulationMeter meter = new NoiseModulationMeter(RATE, 1);
        double[] take = take(1, 0.2);
        meter.accept(take, 0, take.length);
        assertThat(meter.dropDb(0, ONSET)).isLessThan(CHANCE_DB);
    }

    /** A radio tone with its harmonics, picked up by an open input, that fades by 20 dB once the sound has begun. */
    @Test
    void aToneThatFadesIsNoFallOfTheBackground() {
        double[] take = take(1, 0.2);
        for (int i = 0; i < take.length; i++) {
            double strength = 20 * NOISE_RMS * (i < RATE ? 1 : 0.1);
            for (int order = 1; order <= 4; order++) {
                take[i] += strength * Math.sin(2 * Math.PI * 4700 * order * i / RATE);
            }
        }
        NoiseModulationMeter meter = new NoiseModulationMeter(RATE, 1);
        meter.accept(take, 0, take.length);
        assertThat(meter.dropDb(0, ONSET)).isLessThan(CHANCE_DB);
    }

    @Test
    void aSilentLeadInTellsNothing() {
        double[] take = take(0.5, 0.2);
        Arrays.fill(take, 0, ONSET, 0);
        NoiseModulationMeter meter = new NoiseModulationMeter(RATE, 1);
        meter.accept(take, 0, take.length);
        assertThat(meter.dropDb(0, ONSET)).isNaN();
    }

    @Test
    void aLeadInOfMillisecondsTellsNothing() {
        NoiseModulationMeter meter = new NoiseModulationMeter(RATE, 1);
        double[] take = take(0.5, 0.2);
        meter.accept(take, 0, take.length);
        assertThat(meter.dropDb(0, RATE / 10)).isNaN();
    }

    /** Three seconds; all from the onset on passes the gain. */
    private static double[] take(double gain, double amplitude) {
        double[] x = Noise.whiteGaussian(3 * RATE, NOISE_RMS, 5);
        for (int i = ONSET; i < x.length; i++) {
            double tone = i < 2 * RATE ? amplitude * Math.sin(2 * Math.PI * 440 * i / RATE) : 0;
            x[i] = gain * (x[i] + tone);
        }
        return x;
    }
}
