package ohmprint.estimation;

import static ohmprint.estimation.FittedBand.fit;
import static ohmprint.estimation.FittedBand.value;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.Stream;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.CapacitorCoupled;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.circuit.SourceModel.RibbonTransformer;
import ohmprint.estimation.BandSolver.BandFit;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Whether the solver of one band finds the value that is there, and says so where none fits. */
class BandSolverTest {
    /** What Gauss–Newton leaves of a noise-free value, relative to |Z|. */
    private static final double EXACT = 1e-9;

    private static final double VARIANCE = 1e-6;

    private static final SourceModel COIL =
            new MovingCoil(200, LossyInductor.ofHenries(0.001), new Resonance(100, 0.106103295, 10.6103295e-6));
    private static final SourceModel RIBBON = new RibbonTransformer(0.001, 1.369, 0.99999, 0.2, 20, 10e-6, 0, null);

    static Stream<Arguments> circuits() {
        return Stream.of(
                Arguments.of("moving coil", COIL),
                Arguments.of("ribbon", RIBBON),
                Arguments.of("capacitor-coupled", new CapacitorCoupled(75, 10e-6)),
                Arguments.of("lossy coil", new MovingCoil(280, new LossyInductor(0.02, 0.7), null)));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("circuits")
    void recoversCircuitsExactlyWithoutNoise(String name, SourceModel source) {
        LoadedTakes[] sessions = {
            CircuitBins.resistorsOnly(150, 1500),
            CircuitBins.resistors(InputImpedance.ofOhms(3000, 0, 470, 0), 150, 1500),
            CircuitBins.resistors(InputImpedance.ofOhms(1500, 0, 1000, 0), 100, 220, 680, 2200)
        };
        for (LoadedTakes takes : sessions) {
            for (double hz : new double[] {20, 150, 1000, 10_000, 20_000}) {
                BandFit fit = fit(CircuitBins.of(source, takes, 1e-12).exact(hz), takes, 0);
                Complex z = source.impedance(hz);
                assertThat(value(fit).subtract(z).abs() / z.abs())
                        .as("relative error at %s Hz with %d takes", hz, takes.size())
                        .isLessThan(EXACT);
            }
        }
    }

    // The moving coil and the ribbon by ngspice-39, AC analysis: see the circuits' own tests for the values.
    @ParameterizedTest
    @CsvSource({"150, 300.0000, 0.94248", "1000, 202.3006, -8.70905", "10000, 200.0225, 61.33185"})
    void returnsTheValuesOfACircuitSimulator(double hz, double re, double im) {
        LoadedTakes takes = CircuitBins.resistors(InputImpedance.ofOhms(3000, 0, 470, 0), 150, 1500);
        BandFit fit = fit(CircuitBins.of(COIL, takes, 1e-12).exact(hz), takes, 0);
        assertThat(fit.resistanceOhm()).isCloseTo(re, within(1e-4));
        assertThat(fit.reactanceOhm()).isCloseTo(im, within(1e-4));
    }

    /** Z = R_a·R_b·(1 − r)/(r·R_b − R_a) of the measured ratio r: with two takes no freedom is left, noise or not. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void twoLoadsGiveTheClosedForm(long seed) {
        double a = 150;
        double b = 1500;
        LoadedTakes takes = CircuitBins.resistorsOnly(a, b);
        BinObservations obs =
                CircuitBins.of(CircuitBins.constant(150, 62.8319), takes, 1e-4).noisy(CircuitBins.seeded(seed), 1000);
        Complex r = new Complex(obs.re(0, 0, 1), obs.im(0, 0, 1)).divide(obs.re(0, 1, 1));
        Complex expected =
                Complex.ONE.subtract(r).multiply(a * b).divide(r.multiply(b).subtract(a));
        BandFit fit = fit(obs, takes, 0);
        assertThat(value(fit).subtract(expected).abs() / expected.abs()).isLessThan(1e-7);
        assertThat(fit.residual()).isCloseTo(0, within(1e-6));
    }

    // Closed form: Z ∥ Z_in = 200 · 1500/1700 Ω when the input is left out of the model.
    @Test
    void aForgottenInputGivesTheParallelCombination() {
        LoadedTakes truth = CircuitBins.resistors(InputImpedance.ofOhms(1500, 0), 150, 1500);
        BinObservations obs =
                CircuitBins.of(CircuitBins.constant(200, 0), truth, 1e-12).exact(1000);
        BandFit forgotten = fit(obs, CircuitBins.resistorsOnly(150, 1500), 0);
        assertThat(forgotten.resistanceOhm()).isCloseTo(176.4706, within(5e-5));
        assertThat(fit(obs, truth, 0).resistanceOhm()).isCloseTo(200, within(200 * EXACT));
    }

    /** A Z that bends within the band: the slope in ln f keeps the value at f_m, without it the band's mean is read. */
    @Test
    void aSlopeKeepsUnevenlyHeldBandsUnbiased() {
        LoadedTakes takes = CircuitBins.resistorsOnly(150, 1500);
        SourceModel coil = new MovingCoil(200, LossyInductor.ofHenries(0.005), null);
        double[] upperHalf = CircuitBins.frequencies(995, 1059, 12);
        BinObservations obs = CircuitBins.of(coil, takes, 1e-10).exact(upperHalf);
        Complex z = coil.impedance(1000);
        double flat = value(fit(obs, takes, 0)).subtract(z).abs() / z.abs();
        double sloped = value(fit(obs, takes, 1)).subtract(z).abs() / z.abs();
        assertThat(flat).isGreaterThan(2e-3);
        assertThat(sloped).isLessThan(1e-4);
    }

    @Test
    void aWrongLoadShowsInTheResidual() {
        double[] hz = CircuitBins.frequencies(950, 1050, 10);
        BinObservations obs = CircuitBins.of(
                        CircuitBins.constant(200, 50), CircuitBins.resistorsOnly(100, 331, 1500), VARIANCE)
                .exact(hz);
        BandFit fit = fit(obs, CircuitBins.resistorsOnly(100, 470, 1500), 0);
        assertThat(fit.residual()).isGreaterThan(100 * fit.degreesOfFreedom());
    }

    @Test
    void aNegativeResistanceIsReportedAndNotClipped() {
        LoadedTakes takes = CircuitBins.resistorsOnly(150, 1500);
        BandFit fit =
                fit(CircuitBins.of(CircuitBins.constant(-20, 60), takes, 1e-12).exact(1000), takes, 0);
        assertThat(fit.resistanceOhm()).isCloseTo(-20, within(1e-6));
        assertThat(fit.reactanceOhm()).isCloseTo(60, within(1e-6));
    }
}
