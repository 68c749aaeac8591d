package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.estimation.BinObservations;
import ohmprint.session.Take;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The level of takes with one load, in noise, and when takes between them were left out. */
class RepeatDriftTest {
    private static final int BINS = 4000;

    private static final InputImpedance INPUT = InputImpedance.ofOhms(3000, 0);

    @TempDir
    Path dir;

    private static Take take(String file, double ohm) {
        return new Take(file, Load.ofOhms(ohm, 0));
    }

    /**
     * Two takes of one load at one level with noise of their own: the ratio is 0 dB. With noise left in the denominator it reads
     * −20·log₁₀(1 + 1/SNR), −0.086 dB at 20 dB (closed form). Merged cells hold sums over their bins.
     */
    @ParameterizedTest
    @ValueSource(doubles = {40, 20, 10})
    void noiseDoesNotLowerTheLevelOfARepeat(double snrDb) {
        double variance = Math.pow(10, -snrDb / 10);
        Random random = new Random(new SplittableRandom(5).nextLong());
        BinObservations bins = new BinObservations(2, hz(), 1);
        for (int i = 0; i < BINS; i++) {
            double[] re = new double[2];
            double[] im = new double[2];
            for (int k = 0; k < 2; k++) {
                re[k] = 1 + Math.sqrt(variance / 2) * random.nextGaussian();
                im[k] = Math.sqrt(variance / 2) * random.nextGaussian();
                bins.setNoise(i, k, variance);
            }
            bins.setSnapshot(i, re, im);
        }
        // Of the real part of each of two noises, relative, over so many bins; four times that.
        double allowed = 4 * 20 / Math.log(10) * Math.sqrt((variance + variance * variance) / BINS);
        List<Take> takes = List.of(take("a.wav", 150), take("b.wav", 150));
        for (BinObservations seen : List.of(bins, bins.merged(12))) {
            TakeSet set = TakeSet.of(takes, takes, INPUT, seen);
            assertThat(RepeatDrift.levelDb(set, takes.get(1), takes.get(0))).isCloseTo(0, within(allowed));
        }
    }

    /**
     * A source that rises by 0.2 % from take to take; the second of four takes is left out. Over the three places between the
     * takes of one load it rises by 0.6 %, so the slope is 0.2 % and all levels are alike once it is taken out (closed form).
     */
    @Test
    void aDriftGoesOnWhileTakesAreRecordedThatAreLeftOut() {
        List<Take> session = List.of(take("a.wav", 150), take("b.wav", 470), take("c.wav", 1500), take("d.wav", 150));
        int[] places = {0, 2, 3};
        BinObservations bins = new BinObservations(3, hz(), 1);
        for (int i = 0; i < BINS; i++) {
            double[] re = new double[3];
            for (int k = 0; k < 3; k++) {
                re[k] = Math.exp(0.002 * places[k]);
                bins.setNoise(i, k, 1e-12);
            }
            bins.setSnapshot(i, re, new double[3]);
        }
        List<Take> held = List.of(session.get(0), session.get(2), session.get(3));
        TakeSet takes = TakeSet.of(session, held, INPUT, bins);
        RepeatDrift repeats = RepeatDrift.of(takes);
        assertThat(repeats.slope()).isCloseTo(0.002, within(1e-9));
        BinObservations levelled = repeats.levelled(takes).bins();
        for (int k = 0; k < 3; k++) {
            assertThat(levelled.re(0, k, k)).as("power of take %d", k).isCloseTo(1, within(1e-9));
        }
    }

    /**
     * The same from audio files: 0.1 dB from take to take, and a second take that holds another sound. The drift is exactly
     * straight in the places of the session, so that the curve is as good as without any; by places among the three takes left
     * the level of the middle one would be 0.05 dB off, 1.3 % of |Z|.
     */
    @Test
    void aTakeWithAnotherSoundDoesNotShortenTheDrift() throws Exception {
        double[] noise = SimulatedSession.pink(3, 21);
        double step = Math.pow(10, 0.1 / 20);
        MeasureOutcome outcome = new SimulatedSession(dir, 22)
                .take(noise, SimulatedSession.COIL, 150, 150, 1)
                .take(SimulatedSession.pink(3, 23), SimulatedSession.COIL, 470, 470, step)
                .take(noise, SimulatedSession.COIL, 2200, 2200, step * step)
                .take(noise, SimulatedSession.COIL, 150, 150, step * step * step)
                .folder()
                .measure();
        assertThat(outcome.measurement().provenance().takes())
                .extracting(t -> t.leftOut())
                .containsExactly(false, true, false, false);
        Truth.Score score = Truth.of(SimulatedSession.COIL::impedance)
                .score(outcome.measurement().curve(), 40, 15_000);
        assertThat(score.magnitudePercent(50))
                .as("median error of the curve, %%")
                .isLessThan(0.4);
    }

    private static double[] hz() {
        double[] hz = new double[BINS];
        java.util.Arrays.setAll(hz, i -> 100 + i);
        return hz;
    }
}
