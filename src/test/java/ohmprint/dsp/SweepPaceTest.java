package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class SweepPaceTest {
    private static final int RATE = 48_000;

    // L = T/ln(f2/f1) = 1.447648 s for 20 Hz to 20 kHz in 10 s: closed form.
    @Test
    void readsThePaceOffASweep() {
        double[] sweep = ExponentialSweep.ofBand(20, 20_000, 10, -6, RATE).samples();
        assertThat(ExponentialSweep.secondsPerNeper(sweep, RATE).orElseThrow()).isCloseTo(1.447648, within(0.005));
    }

    @Test
    void noiseAndASteadyToneAreNoSweep() {
        assertThat(ExponentialSweep.secondsPerNeper(Noise.pink(5 * RATE, 0.1, RATE, 1), RATE))
                .isEmpty();
        double[] tone = new double[5 * RATE];
        for (int i = 0; i < tone.length; i++) {
            tone[i] = Math.sin(2 * Math.PI * 997 * i / RATE);
        }
        assertThat(ExponentialSweep.secondsPerNeper(tone, RATE)).isEmpty();
    }

    @Test
    void silenceIsNoSweep() {
        assertThat(ExponentialSweep.secondsPerNeper(new double[RATE], RATE)).isEmpty();
        assertThat(ExponentialSweep.secondsPerNeper(new double[0], RATE)).isEmpty();
    }
}
