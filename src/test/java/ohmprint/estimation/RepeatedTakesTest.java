package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Objects;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.SharedErrors;
import org.junit.jupiter.api.Test;

/** Two loads, the first again: what its takes tell about gains and delays is used. */
class RepeatedTakesTest {
    private static final FrequencyBands BANDS = FrequencyBands.within(3, 500, 2000);
    private static final double[] HZ = CircuitBins.frequencies(300, 3000, 400);
    private static final double Z = 200;
    private static final double DRIFT = 0.002;
    private static final double DELAY = 1e-7;
    private static final double NOISE = 1e-8;
    private static final LoadedTakes TAKES = CircuitBins.resistorsOnly(150, 1500, 150);

    /** A level that creeps evenly leaves the middle take as far from one end as from the other; takes without noise show it. */
    @Test
    void anEvenDriftIsTakenOut() {
        CircuitBins bins = CircuitBins.of(CircuitBins.constant(Z, 0), TAKES, NOISE)
                .withGain(1, Math.exp(DRIFT))
                .withGain(2, Math.exp(2 * DRIFT));
        assertThat(middle(bins.exact(HZ), SharedErrors.FITTED).magnitudeOhm()).isCloseTo(Z, within(1e-4 * Z));
    }

    /** If one of the two takes is noisy, a band for itself trusts the other and takes half of the drift for impedance. */
    @Test
    void theNoisierOfTheTwoTakesCountsForTheDriftAllTheSame() {
        CircuitBins bins = CircuitBins.of(CircuitBins.constant(Z, 0), TAKES, NOISE)
                .withGain(1, Math.exp(DRIFT))
                .withGain(2, Math.exp(2 * DRIFT));
        BinObservations obs = bins.exact(HZ);
        for (int i = 0; i < obs.size(); i++) {
            obs.setNoise(i, 0, 10 * NOISE);
        }
        double fitted = Math.abs(middle(obs, SharedErrors.FITTED).magnitudeOhm() / Z - 1);
        double carried = Math.abs(middle(obs, SharedErrors.CARRIED).magnitudeOhm() / Z - 1);
        assertThat(carried).isGreaterThan(1e-3);
        assertThat(fitted).isLessThan(0.1 * carried);
    }

    /** A difference of level and delay between the two takes of one load is no noise. */
    @Test
    void aDifferenceBetweenTheTakesOfALoadIsNotCountedAsNoise() {
        BinObservations obs = CircuitBins.of(CircuitBins.constant(Z, 0), TAKES, NOISE)
                .withGain(2, Math.exp(2 * DRIFT))
                .withDelay(2, 2 * DELAY)
                .noisy(CircuitBins.seeded(4), HZ);
        double fitted = noise(middle(obs, SharedErrors.FITTED));
        double carried = noise(middle(obs, SharedErrors.CARRIED));
        assertThat(carried).isGreaterThan(3 * fitted);
    }

    /**
     * What is left of independent gains of equal scatter u is that of the middle take and half of that of the two others,
     * √1.5·u (closed form), where each band for itself states the same.
     */
    @Test
    void theMiddleTakeStaysAsUncertainAsItIs() {
        CircuitBins bins = CircuitBins.of(CircuitBins.constant(Z, 0), TAKES, NOISE);
        double level = (Z + 150) * (Z + 1500) / (1500 - 150);
        assertThat(middle(bins.exact(HZ), SharedErrors.FITTED).magnitudeU95Ohm())
                .isCloseTo(1.96 * level * Math.sqrt(1.5) * DRIFT, within(0.01));
    }

    private static double noise(BandValue value) {
        return Objects.requireNonNull(value.budget()).noise();
    }

    private static BandValue middle(BinObservations obs, SharedErrors shared) {
        List<BandValue> values = new CoherentSolver(BANDS, new Priors(DRIFT, DELAY), shared)
                .solve(obs, TAKES)
                .values();
        return values.get(values.size() / 2);
    }

    /** One repeat says little, and Student's factor for its degrees of freedom says so: t(1) is 12.71, JCGM 100 table G.2. */
    @Test
    void aScatterKnownFromOneRepeatHasStudentsFactor() {
        CircuitBins bins = CircuitBins.of(CircuitBins.constant(Z, 0), TAKES, NOISE);
        LoadedTakes takes = new LoadedTakes(
                List.of(Load.ofOhms(150, 0), Load.ofOhms(1500, 0), Load.ofOhms(150, 0)), InputImpedance.unknown());
        BandValue known = value(bins, takes, new Priors(DRIFT, 0));
        BandValue seen = value(bins, takes, new Priors(DRIFT, 1, 0));
        assertThat(seen.magnitudeU95Ohm() / known.magnitudeU95Ohm()).isCloseTo(12.71 / 1.96, within(0.02));
    }

    private static BandValue value(CircuitBins bins, LoadedTakes takes, Priors priors) {
        List<BandValue> values =
                new CoherentSolver(BANDS, priors).solve(bins.exact(HZ), takes).values();
        return values.get(values.size() / 2);
    }
}
