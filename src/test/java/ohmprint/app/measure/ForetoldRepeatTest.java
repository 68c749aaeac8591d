package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import ohmprint.circuit.Divider;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.estimation.BinObservations;
import ohmprint.estimation.CoherentSolver;
import ohmprint.estimation.LoadedTakes;
import ohmprint.estimation.Priors;
import ohmprint.estimation.UncertaintyPredictor;
import ohmprint.estimation.UncertaintyPredictor.ExpectedSession;
import ohmprint.impedance.FrequencyBands;
import ohmprint.session.Take;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What is foretold of sessions in which the first load comes again against what they state once they are measured. */
@Tag("slow")
class ForetoldRepeatTest {
    private static final int SESSIONS = 200;
    private static final double SECONDS = 2;
    private static final double RATIO = 1e6;
    private static final Complex OHMS = new Complex(250, 60);
    private static final FrequencyBands BAND = FrequencyBands.within(12, 950, 1050);
    private static final List<Load> LOADS = List.of(Load.ofOhms(220, 0), Load.open(), Load.ofOhms(220, 0));
    private static final List<Take> TAKES =
            List.of(new Take("a.wav", LOADS.get(0)), new Take("b.wav", LOADS.get(1)), new Take("c.wav", LOADS.get(2)));

    /**
     * Gains that scatter as is believed, A-B-A. The root mean square of the stated uncertainties follows the drawn S, one normal
     * square in each session: u² = (3·u₀² + S)/4 has a standard deviation of 0.35·u₀², that of the mean of {@value #SESSIONS} is
     * 2.5 % and that of its root 1.3 %.
     */
    @ParameterizedTest
    @CsvSource({"0.0005", "0.005"})
    void theStatementIsWhatWasForetold(double drift) {
        LoadedTakes takes = new LoadedTakes(LOADS, InputImpedance.ofOhms(3000, 0));
        UncertaintyPredictor predictor = new UncertaintyPredictor(
                new ExpectedSession(BAND, hz -> OHMS, RATIO, SECONDS),
                LevelDrift.believed(drift).expecting(LOADS).priors());
        double foretold = predictor.predict(takes).worst().u95Ohm();
        double square = 0;
        for (long seed = 0; seed < SESSIONS; seed++) {
            square += Math.pow(stated(takes, drift, new Random(new SplittableRandom(seed).nextLong())), 2) / SESSIONS;
        }
        assertThat(foretold).as("seeds 0 to %d", SESSIONS - 1).isCloseTo(Math.sqrt(square), withinPercentage(4));
    }

    /** As {@link MeasureSession} does: the repeat tells the scatter, a straight drift is taken out. */
    private static double stated(LoadedTakes takes, double drift, Random random) {
        double[] gain = new double[3];
        Arrays.setAll(gain, k -> Math.exp(drift * random.nextGaussian()));
        TakeSet set = TakeSet.of(TAKES, TAKES, takes.input(), bins(takes, gain, 1, random));
        RepeatDrift repeats = RepeatDrift.of(set);
        return new CoherentSolver(BAND, LevelDrift.believed(drift).with(repeats).priors(1e-9))
                .solve(repeats.levelled(set).bins(), takes)
                .values()
                .get(0)
                .magnitudeU95Ohm();
    }

    /** Takes of these gains; {@code noise} is 1 for noise of the usual ratio, 0 for next to none, stated alike. */
    private static BinObservations bins(LoadedTakes takes, double[] gain, double noise, Random random) {
        double[] hz =
                IntStream.rangeClosed(1900, 2100).mapToDouble(i -> i / SECONDS).toArray();
        BinObservations bins = new BinObservations(3, hz, 1);
        double loss = Complex.ONE.add(OHMS.divide(3000)).abs();
        double variance = Math.max(1e-12, noise * noise) / (loss * loss * RATIO);
        double sd = Math.sqrt(variance / 2);
        for (int i = 0; i < hz.length; i++) {
            double[] re = new double[3];
            double[] im = new double[3];
            for (int k = 0; k < 3; k++) {
                Complex d = Divider.response(OHMS, Divider.admittance(LOADS.get(k), takes.input(), hz[i]))
                        .multiply(gain[k]);
                re[k] = d.getReal() + sd * random.nextGaussian();
                im[k] = d.getImaginary() + sd * random.nextGaussian();
                bins.setNoise(i, k, variance);
            }
            bins.setSnapshot(i, re, im);
        }
        return bins;
    }

    /** Two loads that come again, twice and once, are three observations beside the three that a belief counts as. */
    @Test
    void everyTakeWhoseLoadWasThereBeforeIsARepeat() {
        List<Load> loads =
                List.of(Load.ofOhms(100, 1), Load.open(), Load.ofOhms(100, 1), Load.open(), Load.ofOhms(100, 1));
        Priors priors = LevelDrift.believed(0.001).expecting(loads).priors();
        assertThat(priors.gainFreedom()).isEqualTo(6);
        assertThat(priors.gain()).isCloseTo(0.001, within(1e-15));
        assertThat(LevelDrift.believed(0.001).expecting(loads.subList(0, 2)).freedom())
                .isInfinite();
    }

    /**
     * A level that rises by 0.1 % from take to take is 0.2 % more in the third of A-B-A: slope 0.001, S = r²/2; levelled takes of one
     * load are alike (closed form).
     */
    @Test
    void aStraightDriftIsFoundAndTakenOut() {
        LoadedTakes takes = new LoadedTakes(LOADS, InputImpedance.ofOhms(3000, 0));
        BinObservations bins = bins(takes, new double[] {1, Math.exp(0.001), Math.exp(0.002)}, 0, new Random(0));
        TakeSet set = TakeSet.of(TAKES, TAKES, takes.input(), bins);
        RepeatDrift repeats = RepeatDrift.of(set);
        assertThat(repeats.slope()).isCloseTo(0.001, within(1e-9));
        assertThat(repeats.squares()).isCloseTo(0.002 * 0.002 / 2, within(1e-12));
        assertThat(repeats.freedom()).isEqualTo(1);
        assertThat(RepeatDrift.of(repeats.levelled(set)).slope()).isCloseTo(0, within(1e-12));
    }
}
