package ohmprint.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.curve.BandValue;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.SharedErrors;
import org.junit.jupiter.api.Test;

/** Two loads, the first again: what its takes tell about gains and delays is used. */
class RepeatedTakesTest {
    private static final FrequencyBands BANDS = FrequencyBands.within(3, 500, 2000);
    private static final double[] HZ = CircuitBins.frequencies(300, 3000, 400);
    private static final double Z = 200;
    private static final double DRIFT = 0.002;
    private static final double DELAY = 1e-7;
    private static final LoadedTakes TAKES = CircuitBins.resistorsOnly(150, 1500, 150);

    /** A level that creeps evenly leaves the middle take as far from one end as from the other. */
    @Test
    void anEvenDriftIsTakenOut() {
        CircuitBins bins = CircuitBins.of(CircuitBins.constant(Z, 0), TAKES, 1e-10)
                .withGain(1, 1 + DRIFT)
                .withGain(2, 1 + 2 * DRIFT);
        double fitted = error(bins, SharedErrors.FITTED);
        double carried = error(bins, SharedErrors.CARRIED);
        assertThat(fitted).isLessThan(1e-4);
        assertThat(carried).isGreaterThan(1e-3);
    }

    /** The same of a delay that grows evenly, as between two clocks: it turns the phase. */
    @Test
    void anEvenlyGrowingDelayIsTakenOut() {
        CircuitBins bins = CircuitBins.of(CircuitBins.constant(Z, 0), TAKES, 1e-10)
                .withDelay(1, DELAY)
                .withDelay(2, 2 * DELAY);
        BandValue fitted = middle(bins, SharedErrors.FITTED);
        BandValue carried = middle(bins, SharedErrors.CARRIED);
        assertThat(Math.abs(fitted.phaseRad())).isLessThan(0.2 * Math.abs(carried.phaseRad()));
    }

    /**
     * What is left of independent gains of equal scatter u is that of the middle take and half of that of the two others,
     * √1.5·u (closed form), where each band for itself states the same.
     */
    @Test
    void theMiddleTakeStaysAsUncertainAsItIs() {
        CircuitBins bins = CircuitBins.of(CircuitBins.constant(Z, 0), TAKES, 1e-10);
        double level = (Z + 150) * (Z + 1500) / (1500 - 150);
        assertThat(middle(bins, SharedErrors.FITTED).magnitudeU95Ohm())
                .isCloseTo(1.96 * level * Math.sqrt(1.5) * DRIFT, within(0.01));
    }

    private static double error(CircuitBins bins, SharedErrors shared) {
        return Math.abs(middle(bins, shared).magnitudeOhm() / Z - 1);
    }

    private static BandValue middle(CircuitBins bins, SharedErrors shared) {
        List<BandValue> values = new CoherentSolver(BANDS, new Priors(DRIFT, DELAY), shared)
                .solve(bins.exact(HZ), TAKES)
                .values();
        return values.get(values.size() / 2);
    }

    /** One repeat says little, and Student's factor for its degrees of freedom says so: t(1) is 12.71, JCGM 100 table G.2. */
    @Test
    void aScatterKnownFromOneRepeatHasStudentsFactor() {
        CircuitBins bins = CircuitBins.of(CircuitBins.constant(Z, 0), TAKES, 1e-10);
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
