package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * How often the stated 95 % intervals hold the truth over many invented sessions. One band per session is counted, so
 * that the sessions are independent; hits have to lie within {@code 0.95 ± 3·√(0.95·0.05/N)}.
 */
@Tag("statistics")
class CoverageTest {
    private static final int SESSIONS = 2000;
    private static final double ALLOWED = 3 * Math.sqrt(0.95 * 0.05 / SESSIONS);
    private static final FrequencyBands BANDS = FrequencyBands.within(12, 900, 1110);
    private static final int COUNTED = BANDS.size() / 2;
    private static final double[] HZ = CircuitBins.frequencies(870, 1150, 65);
    private static final SourceModel COIL = new MovingCoil(200, LossyInductor.ofHenries(0.005), null);
    private static final double GAIN_SD = 0.005;
    private static final double DELAY_SD = 0.2e-6;

    @ParameterizedTest
    @CsvSource({"150:1500", "100:300:1500", "1000:2000", "150:1500:150"})
    void noiseAloneIsStatedRight(String list) {
        double[] loads =
                Arrays.stream(list.split(":")).mapToDouble(Double::parseDouble).toArray();
        LoadedTakes takes = CircuitBins.resistors(InputImpedance.ofOhms(3000, 0, 470, 0), loads);
        CoherentSolver solver = new CoherentSolver(BANDS, new Priors(0, 0));
        Hits hits = new Hits();
        for (long seed = 0; seed < SESSIONS; seed++) {
            BinObservations obs = CircuitBins.of(COIL, takes, 1e-5).noisy(CircuitBins.seeded(seed), HZ);
            hits.count(solver.solve(obs, takes));
        }
        hits.check("noise only, seeds 0 to " + (SESSIONS - 1) + ", loads " + list);
    }

    /** The noise is stated four times too low or too high; with more than two takes the residuals put it right. */
    @ParameterizedTest
    @CsvSource({"0.25", "4"})
    void residualsCorrectAWrongStatementOfTheNoise(double factor) {
        LoadedTakes takes = CircuitBins.resistorsOnly(100, 300, 1500);
        CoherentSolver solver = new CoherentSolver(BANDS, new Priors(0, 0));
        Hits hits = new Hits();
        for (long seed = 0; seed < SESSIONS; seed++) {
            BinObservations obs = CircuitBins.of(COIL, takes, 1e-5).noisy(CircuitBins.seeded(seed), HZ);
            for (int i = 0; i < obs.size(); i++) {
                for (int k = 0; k < obs.takes(); k++) {
                    obs.setNoise(i, k, 1e-5 * factor);
                }
            }
            hits.count(solver.solve(obs, takes));
        }
        hits.check("noise stated " + factor + " times the true one, seeds 0 to " + (SESSIONS - 1));
    }

    @Test
    void gainsLoadsAndDelaysDrawnFromTheirPriors() {
        double u = 0.01;
        List<Load> stated = List.of(Load.measured(150, 150 * u), Load.measured(1500, 1500 * u));
        Hits hits = drawn(stated, 0, random -> 1 + u * random.nextGaussian());
        hits.check("measured loads, seeds 0 to " + (SESSIONS - 1));
    }

    @Test
    void tolerancesDrawnAsRectanglesAmongOtherCauses() {
        List<Load> stated = List.of(Load.ofOhms(150, 1), Load.ofOhms(1500, 1));
        Hits hits = drawn(stated, 5, random -> 1 + 0.01 * (2 * random.nextDouble() - 1));
        hits.check("loads ± 1 %, input ± 5 %, seeds 0 to " + (SESSIONS - 1));
    }

    /** A rectangle has no tails: where it dominates, 1.96 standard uncertainties would hold 98 % (JCGM 100:2008, G.6.5, from memory). */
    @Test
    void dominatingTolerancesHaveTheirOwnFactor() {
        List<Load> stated = List.of(Load.ofOhms(150, 2), Load.ofOhms(1500, 2));
        Hits hits = drawn(stated, 5, random -> 1 + 0.02 * (2 * random.nextDouble() - 1));
        hits.check("loads ± 2 %, seeds 0 to " + (SESSIONS - 1));
    }

    private static Hits drawn(List<Load> stated, double inputPercent, ToDoubleFunction<Random> loadFactor) {
        Hits hits = new Hits();
        LoadedTakes takes = new LoadedTakes(stated, InputImpedance.ofOhms(3000, inputPercent, 470, inputPercent));
        CoherentSolver solver = new CoherentSolver(BANDS, new Priors(GAIN_SD, DELAY_SD));
        for (long seed = 0; seed < SESSIONS; seed++) {
            Random random = CircuitBins.seeded(seed);
            double[] actual = stated.stream()
                    .mapToDouble(load -> load.ohm() * loadFactor.applyAsDouble(random))
                    .toArray();
            InputImpedance actualInput = InputImpedance.ofOhms(
                    3000 * (1 + inputPercent / 100 * (2 * random.nextDouble() - 1)),
                    0,
                    470 * (1 + inputPercent / 100 * (2 * random.nextDouble() - 1)),
                    0);
            CircuitBins bins = CircuitBins.of(COIL, CircuitBins.resistors(actualInput, actual), 1e-5);
            for (int k = 0; k < actual.length; k++) {
                bins = bins.withGain(k, Math.exp(GAIN_SD * random.nextGaussian()))
                        .withDelay(k, DELAY_SD * random.nextGaussian());
            }
            hits.count(solver.solve(bins.noisy(random, HZ), takes));
        }
        return hits;
    }

    @Test
    void aBandBelowTheNoiseIsRejectedAndNotInvented() {
        LoadedTakes takes = CircuitBins.resistorsOnly(150, 1500);
        CoherentSolver solver = new CoherentSolver(BANDS, new Priors(GAIN_SD, DELAY_SD));
        for (long seed = 0; seed < 50; seed++) {
            BinObservations obs = CircuitBins.of(COIL, takes, 30).noisy(CircuitBins.seeded(seed), HZ);
            assertThat(solver.solve(obs, takes).values()).as("seed %d", seed).noneMatch(BandValue::isMeasured);
        }
    }

    /** Counts truths inside the stated intervals. */
    private static final class Hits {
        private final Complex truth = COIL.impedance(BANDS.midband(COUNTED));
        private int magnitude;
        private int phase;

        void count(CurveEstimate estimate) {
            BandValue v = estimate.values().get(COUNTED);
            assertThat(v.isMeasured()).isTrue();
            magnitude += Math.abs(v.magnitudeOhm() - truth.abs()) <= v.magnitudeU95Ohm() ? 1 : 0;
            phase += Math.abs(v.phaseRad() - truth.getArgument()) <= v.phaseU95Rad() ? 1 : 0;
        }

        void check(String what) {
            assertThat((double) magnitude / SESSIONS)
                    .as("coverage of |Z|, %s", what)
                    .isBetween(0.95 - ALLOWED, 0.95 + ALLOWED);
            assertThat((double) phase / SESSIONS)
                    .as("coverage of the phase, %s", what)
                    .isBetween(0.95 - ALLOWED, 0.95 + ALLOWED);
        }
    }
}
