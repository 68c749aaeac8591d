package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import ohmprint.dsp.ArraySource;
import org.junit.jupiter.api.Test;

/** Power densities of takes of different lengths, with silence and decay at their ends. */
class PowerObserverTest {
    private static final double RATE = 8000;
    private static final double NOISE = 0.02;
    /** White noise of variance 1 has the one-sided density 2/rate. */
    private static final double DENSITY = 2 / RATE;

    /**
     * Gaussian noise of variance 1 for 5, 10 and 20 s, ringing for some 0.05 s, in the program's margins of 0.1 and 0.4 s; then one that
     * fills its take from end to end. The power of a take is the energy that was drawn over the seconds for which it was played.
     */
    @Test
    void theLengthOfATakeDoesNotChangeItsPower() throws Exception {
        Random random = CircuitBins.seeded(2);
        List<TakeRecording> takes = new ArrayList<>();
        double[] energy = new double[4];
        double[] seconds = {5, 10, 20, 5};
        for (int k = 0; k < energy.length; k++) {
            boolean cut = k == 3;
            double[] sound = sound(random, cut ? 0 : 0.1, seconds[k], cut ? 0 : 0.4);
            energy[k] = Arrays.stream(sound).map(v -> v * v).sum();
            takes.add(take(random, sound));
        }
        BinObservations obs = new PowerObserver(1, RATE / 2).observe(takes);
        for (int k = 0; k < takes.size(); k++) {
            double power = 0;
            for (int i = 0; i < obs.size(); i++) {
                power += (obs.re(i, k, k) - obs.noise(i, k)) / obs.size();
            }
            assertThat(power)
                    .as("take %d", k + 1)
                    .isCloseTo(DENSITY * energy[k] / (seconds[k] * RATE), withinPercentage(1));
        }
    }

    /** A piece twice as long as its sound holds twice the noise, over the sound's duration; so many bins are worth one. */
    @Test
    void noiseInTheSilenceIsTakenOffOnItsWholeLength() throws Exception {
        TakeRecording take = take(CircuitBins.seeded(3), sound(CircuitBins.seeded(4), 2.5, 5, 2.5));
        BinObservations obs = new PowerObserver(100, 3900).observe(List.of(take, take));
        double noise = 2 * NOISE * NOISE / RATE;
        assertThat(obs.noise(5, 0) / noise).isCloseTo(2, within(0.02));
        assertThat(obs.averages()).isCloseTo(5 * RATE / blockLength(obs), within(0.01));
    }

    private static double blockLength(BinObservations obs) {
        return RATE / (obs.hz(1) - obs.hz(0));
    }

    private static double[] sound(Random random, double before, double seconds, double after) {
        double[] x = new double[(int) ((before + seconds + after) * RATE)];
        int from = (int) (before * RATE);
        int to = from + (int) (seconds * RATE);
        for (int i = from; i < to; i++) {
            x[i] = random.nextGaussian();
        }
        ring(x, after > 0 ? 0.02 : 0);
        return x;
    }

    private static TakeRecording take(Random random, double[] sound) {
        double[] x = sound.clone();
        for (int i = 0; i < x.length; i++) {
            x[i] += NOISE * random.nextGaussian();
        }
        DoubleUnaryOperator noise = hz -> 2 * NOISE * NOISE / RATE;
        return new TakeRecording(() -> new ArraySource(RATE, x), 0, -1, 0, x.length, noise, noise);
    }

    /** A sparse exponential decay that leaves the power of white noise as it is: one of eleven samples, of alternating sign. */
    private static void ring(double[] x, double seconds) {
        if (seconds == 0) {
            return;
        }
        double keep = Math.exp(-11 / (seconds * RATE));
        double in = Math.sqrt(1 - keep * keep);
        double[] state = new double[11];
        for (int i = 0; i < x.length; i++) {
            state[i % 11] = -keep * state[i % 11] + in * x[i];
            x[i] = state[i % 11];
        }
    }
}
