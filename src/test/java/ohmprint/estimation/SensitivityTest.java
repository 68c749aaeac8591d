package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import java.util.Objects;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.estimation.BandSolver.BandFit;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What one standard uncertainty of gain, load, input and delay does to Z, against closed forms and actual deviations. */
class SensitivityTest {
    private static final Complex Z = new Complex(150, 62.8319);
    private static final double RA = 150;
    private static final double RB = 1500;
    /** 95 % point of the size of the sum of one normal and three rectangular parts of the test's size: numpy, 2·10⁷ draws. */
    private static final double DRAWN_FACTOR = 1.910;

    private static final double HZ = 1000;
    private static final double STATED_NOISE = 1e-12;
    private static final double EXACT = 1e-6;
    private static final double TENTH_DB = Math.log(10) / 200;

    // dZ/d ln r = −(Z+R_a)(Z+R_b)/(R_b−R_a) for r = V_a/V_b: closed form, derivative of the two-load formula.
    @Test
    void gainOfATakeActsAsTheDerivativeByItsLevel() {
        double u = 0.005;
        Complex[] s = sensitivities(two(), List.of(new Nuisance.Gain(0, u), new Nuisance.Gain(1, u)));
        Complex expected = Z.add(RA).multiply(Z.add(RB)).divide(RB - RA).multiply(-u);
        assertClose(s[0], expected);
        assertClose(s[1], expected.negate());
    }

    // dZ/Z = [(R_b+Z)·d ln R_a − (R_a+Z)·d ln R_b]/(R_b−R_a) for the values entered: closed form. A true resistance
    // that is
    // higher than the value entered acts the other way round.
    @Test
    void resistorsActAsTheDerivativeByTheirValue() {
        Load a = Load.measured(RA, 0.3);
        Load b = Load.ofOhms(RB, 1);
        LoadedTakes takes = new LoadedTakes(List.of(a, b), InputImpedance.unknown());
        Complex[] s = sensitivities(
                takes,
                List.of(
                        new Nuisance.Resistor(a, new boolean[] {true, false}),
                        new Nuisance.Resistor(b, new boolean[] {false, true})));
        double ua = 0.3 / RA;
        double ub = 0.01 / Math.sqrt(3);
        assertClose(s[0], Z.multiply(Z.add(RB)).divide(RB - RA).multiply(-ua));
        assertClose(s[1], Z.multiply(Z.add(RA)).divide(RB - RA).multiply(ub));
    }

    // 1 µs with 150/1500 Ω on 200 Ω makes a false inductance of (Z+R_a)(Z+R_b)/(R_b−R_a)·τ = 0.441 mH: closed form.
    @Test
    void aDelayOfAMicrosecondActsAsAnInductance() {
        LoadedTakes takes = two();
        BinObservations obs = CircuitBins.of(CircuitBins.constant(200, 0), takes, STATED_NOISE)
                .exact(HZ);
        BandFit fit = fit(obs, takes, List.of(new Nuisance.Delay(0, 1e-6)));
        assertThat(fit.sensitivityIm()[0] / (2 * Math.PI * HZ)).isCloseTo(0.441e-3, within(0.0005e-3));
        assertThat(fit.sensitivityRe()[0]).isCloseTo(0, within(1e-6));
    }

    // 0.1 dB on 200 Ω costs 2.5 % with 150/1500 Ω and 15 % with 1000/2000 Ω: closed form, as above.
    @ParameterizedTest
    @CsvSource({"150, 1500, 2.5, 0.05", "1000, 2000, 15, 0.5"})
    void aTenthOfADecibelCostsMoreWithCloseLoads(double a, double b, double percent, double rounding) {
        LoadedTakes takes = CircuitBins.resistorsOnly(a, b);
        BinObservations obs = CircuitBins.of(CircuitBins.constant(200, 0), takes, STATED_NOISE)
                .exact(HZ);
        BandFit fit = fit(obs, takes, List.of(new Nuisance.Gain(0, TENTH_DB)));
        assertThat(100 * Math.abs(fit.sensitivityRe()[0]) / 200).isCloseTo(percent, within(rounding));
    }

    /** Four takes, a reactive input: the linear response equals what a small true deviation does to the estimate. */
    @Test
    void equalsWhatActualDeviationsDo() {
        double u = 1e-4;
        SourceModel coil = new MovingCoil(200, LossyInductor.ofHenries(0.001), null);
        double[] hz = CircuitBins.frequencies(9500, 10_500, 8);
        InputImpedance input = InputImpedance.ofOhms(3000, 100 * u * Math.sqrt(3), 470, 100 * u * Math.sqrt(3));
        Load load = Load.measured(220, 220 * u);
        List<Load> loads = List.of(Load.ofOhms(100, 0), load, Load.ofOhms(680, 0), load);
        LoadedTakes takes = new LoadedTakes(loads, input);
        List<Nuisance> nuisances = List.of(
                new Nuisance.Gain(2, u),
                new Nuisance.Delay(0, 1e-10),
                new Nuisance.Resistor(load, new boolean[] {false, true, false, true}),
                new Nuisance.Input(0),
                new Nuisance.Input(1));
        LoadedTakes higherLoad =
                takes.withLoad(1, Load.ofOhms(220 * (1 + u), 0)).withLoad(3, Load.ofOhms(220 * (1 + u), 0));
        LoadedTakes higherInput = new LoadedTakes(loads, InputImpedance.ofOhms(3000 * (1 + u), 0, 470, 0));
        LoadedTakes moreCapacitance = new LoadedTakes(loads, InputImpedance.ofOhms(3000, 0, 470 * (1 + u), 0));
        CircuitBins base = CircuitBins.of(coil, takes, STATED_NOISE);
        BinObservations[] deviating = {
            base.withGain(2, 1 + u).exact(hz),
            base.withDelay(0, 1e-10).exact(hz),
            CircuitBins.of(coil, higherLoad, STATED_NOISE).exact(hz),
            CircuitBins.of(coil, higherInput, STATED_NOISE).exact(hz),
            CircuitBins.of(coil, moreCapacitance, STATED_NOISE).exact(hz)
        };
        BandFit fit = fit(base.exact(hz), takes, nuisances);
        for (int n = 0; n < nuisances.size(); n++) {
            BandFit moved = fit(deviating[n], takes, List.of());
            Complex actual =
                    new Complex(moved.resistanceOhm() - fit.resistanceOhm(), moved.reactanceOhm() - fit.reactanceOhm());
            Complex linear = new Complex(fit.sensitivityRe()[n], fit.sensitivityIm()[n]);
            assertThat(actual.subtract(linear).abs())
                    .as("%s: actual %s, linear %s", nuisances.get(n), actual, linear)
                    .isLessThan(3e-3 * actual.abs());
        }
    }

    @Test
    void theBudgetOfABandIsTheQuadratureOfItsCauses() {
        Load a = Load.ofOhms(RA, 1);
        Load b = Load.ofOhms(RB, 1);
        LoadedTakes takes = new LoadedTakes(List.of(a, b), InputImpedance.ofOhms(3000, 5));
        SourceModel source = CircuitBins.constant(200, 0);
        double[] hz = CircuitBins.frequencies(800, 1250, 400);
        BinObservations obs = CircuitBins.of(source, takes, 1e-8).exact(hz);
        FrequencyBands bands = FrequencyBands.within(3, 990, 1010);
        double gain = 0.002;
        BandValue value = new CoherentSolver(bands, new Priors(gain, 1e-7))
                .solve(obs, takes)
                .values()
                .get(0);
        BandBudget budget = Objects.requireNonNull(value.budget());
        // With the input in parallel the closed forms hold for R_a ∥ R_in and R_b ∥ R_in.
        double pa = RA * 3000 / (RA + 3000);
        double pb = RB * 3000 / (RB + 3000);
        double level = (200 + pa) * (200 + pb) / (pb - pa);
        assertThat(budget.drift()).isCloseTo(level * gain * Math.sqrt(2), withinPercentage(0.1));
        double ga = 200 / RA / (1 + 200 / pa);
        double gb = 200 / RB / (1 + 200 / pb);
        double tolerance = 0.01 / Math.sqrt(3);
        assertThat(budget.loads()).isCloseTo(level * tolerance * Math.hypot(ga, gb), withinPercentage(0.1));
        // d(Z ∥ R_in)/d ln R_in carried back to Z: dZ = −Z²/R_in · d ln R_in (closed form).
        assertThat(budget.input()).isCloseTo(200 * 200 / 3000.0 * 0.05 / Math.sqrt(3), withinPercentage(0.1));
        // A delay turns Z by 90° here, so that the modulus does not feel it to first order.
        assertThat(budget.timing()).isLessThan(1e-3 * budget.drift());
        // Tolerances have most of the variance, so k is below 1.96.
        assertThat(value.magnitudeU95Ohm()).isCloseTo(DRAWN_FACTOR * budget.combined(), withinPercentage(0.1));
        double phase = Math.hypot(level * 2 * Math.PI * 1000 * 1e-7 * Math.sqrt(2), budget.noise()) / 200;
        assertThat(value.phaseU95Rad()).isCloseTo(1.96 * phase, withinPercentage(1));
    }

    private static LoadedTakes two() {
        return CircuitBins.resistorsOnly(RA, RB);
    }

    private static Complex[] sensitivities(LoadedTakes takes, List<Nuisance> nuisances) {
        BinObservations obs = CircuitBins.of(CircuitBins.constant(Z.getReal(), Z.getImaginary()), takes, STATED_NOISE)
                .exact(HZ);
        BandFit fit = fit(obs, takes, nuisances);
        Complex[] s = new Complex[nuisances.size()];
        for (int n = 0; n < s.length; n++) {
            s[n] = new Complex(fit.sensitivityRe()[n], fit.sensitivityIm()[n]);
        }
        return s;
    }

    private static BandFit fit(BinObservations obs, LoadedTakes takes, List<Nuisance> nuisances) {
        double centre = Math.sqrt(obs.hz(0) * obs.hz(obs.size() - 1));
        int order = obs.size() == 1 ? 0 : 1;
        return Objects.requireNonNull(new BandSolver(obs, takes, nuisances).fit(0, obs.size(), centre, order));
    }

    private static void assertClose(Complex actual, Complex expected) {
        assertThat(actual.subtract(expected).abs())
                .as("%s against %s", actual, expected)
                .isLessThan(EXACT * expected.abs());
    }
}
