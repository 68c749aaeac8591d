package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Locale;
import java.util.function.ToDoubleFunction;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The advice names what really dominates, as the budget of the bands has it; its wording is free. */
class AdviceTest {
    private static final String LOADS = "load_tolerance_percent: 0.02";
    private static final String INPUT = "resistance_tolerance_percent: 0.1";

    @TempDir
    Path dir;

    private double[] sweep;

    @BeforeEach
    void makeTheSound() {
        sweep = SimulatedSession.sweep();
    }

    @Test
    void steadyTakesAreLimitedByDriftThatNothingShows() throws Exception {
        MeasureOutcome outcome = twoLoads().measure();
        assertThat(outcome.advice().get(0).toLowerCase(Locale.ROOT)).contains("drift");
        dominates(outcome, BandBudget::drift);
        assertThat(outcome.advice()).as("the trust in a steady level is told").hasSize(2);
    }

    @Test
    void aStatedDriftWidensTheBandInProportion() throws Exception {
        TakeFolder session = twoLoads();
        double narrow = widest(
                session.manifest("takes:", "level_drift_percent: 0.5\ntakes:").measure());
        double wide = widest(session.manifest("level_drift_percent: 0.5", "level_drift_percent: 1")
                .measure());
        assertThat(wide / narrow).isBetween(1.9, 2.1);
    }

    @Test
    void resistorsOfFivePerCentDominate() throws Exception {
        MeasureOutcome outcome =
                twoLoads().manifest(LOADS, "load_tolerance_percent: 5").measure();
        assertThat(outcome.advice().get(0).toLowerCase(Locale.ROOT)).contains("loads");
        dominates(outcome, BandBudget::loads);
    }

    @Test
    void anInputKnownToThirtyPerCentDominates() throws Exception {
        MeasureOutcome outcome =
                twoLoads().manifest(INPUT, "resistance_tolerance_percent: 30").measure();
        assertThat(outcome.advice().get(0).toLowerCase(Locale.ROOT)).contains("input");
        dominates(outcome, BandBudget::input);
    }

    @Test
    void noiseInTheTakesDominates() throws Exception {
        MeasureOutcome outcome = new SimulatedSession(dir, 3)
                .noise(0.01)
                .take(sweep, 150)
                .take(sweep, 1500)
                .folder("sweep", sweep)
                .measure();
        assertThat(outcome.advice().get(0).toLowerCase(Locale.ROOT)).contains("noise");
        dominates(outcome, BandBudget::noise);
    }

    @Test
    void aRepeatedLoadNeedsNoWordOnUnseenDrift() throws Exception {
        MeasureOutcome outcome = TakeFolder.copyOf("ribbon-repaired", dir).measure();
        assertThat(outcome.advice()).hasSize(1);
    }

    private TakeFolder twoLoads() throws Exception {
        return new SimulatedSession(dir, 2).take(sweep, 150).take(sweep, 1500).folder("sweep", sweep);
    }

    /** One cause has more than half of the variance, in the median of the bands. */
    private static void dominates(MeasureOutcome outcome, ToDoubleFunction<BandBudget> cause) {
        double[] shares = outcome.measurement().curve().values().stream()
                .filter(BandValue::isMeasured)
                .mapToDouble(v ->
                        Math.pow(cause.applyAsDouble(v.budget()) / v.budget().combined(), 2))
                .sorted()
                .toArray();
        assertThat(shares[shares.length / 2]).as("share of the variance").isGreaterThan(0.5);
    }

    private static double widest(MeasureOutcome outcome) {
        return outcome.measurement().curve().values().stream()
                .filter(BandValue::isMeasured)
                .mapToDouble(v -> v.magnitudeU95Ohm() / v.magnitudeOhm())
                .max()
                .orElseThrow();
    }
}
