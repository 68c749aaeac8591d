package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.List;
import ohmprint.dsp.ArraySource;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import org.junit.jupiter.api.Test;

/** Takes of a sweep that passes a cubic curve, at a rate that holds the third harmonic of all of it. */
class ThirdHarmonicTest {
    private static final double RATE = 176_400;
    private static final int LEAD = 80_000;
    private static final double AMPLITUDE = 0.5;

    // x − a·x³ of amplitude A: fundamental A·(1 − ¾aA²), third harmonic aA³/4: closed form.
    @Test
    void isThatOfTheCubic() throws Exception {
        double a = 0.1;
        double expected = a * AMPLITUDE * AMPLITUDE / 4 / (1 - 0.75 * a * AMPLITUDE * AMPLITUDE);
        double[] third =
                third(ExponentialSweep.ofBand(20, 20_000, 2, -6.0206, RATE).samples(), 0, a);
        assertThat(third[0]).isZero();
        assertThat(third[1]).isCloseTo(expected, withinPercentage(5));
    }

    @Test
    void noiseHasNoneThatCouldBeTold() throws Exception {
        assertThat(third(Noise.pink((int) (2 * RATE), 0.1, RATE, 1), 0, 0.1)).isEmpty();
    }

    private static double[] third(double[] sound, double... curvatures) throws Exception {
        List<TakeRecording> takes =
                Arrays.stream(curvatures).mapToObj(a -> take(sound, a)).toList();
        TakeSpectra whole = TakeSpectra.of(takes, RATE, sound.length);
        long[] starts = new long[curvatures.length];
        Arrays.fill(starts, LEAD);
        return new StimulusObserver(sound, RATE, 30, 19_000)
                .observe(whole, starts)
                .thirdHarmonic();
    }

    private static TakeRecording take(double[] sound, double a) {
        double[] x = Noise.whiteGaussian(LEAD + sound.length + (int) (0.5 * RATE), 1e-4, 3);
        for (int i = 0; i < sound.length; i++) {
            x[LEAD + i] += sound[i] - a * sound[i] * sound[i] * sound[i];
        }
        return new TakeRecording(() -> new ArraySource(RATE, x), 0, -1, LEAD, x.length, hz -> 1e-12, hz -> 1e-12);
    }
}
