package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DividerTest {
    private static final Complex SOURCE = new Complex(150, 62.8319);

    // Closed form 20·lg(1 + 1/n), recomputed with numpy. That a load should be ten times the source: common practice,
    // no source.
    @ParameterizedTest
    @CsvSource({"1, 6.0206", "5, 1.5836", "10, 0.8279", "20, 0.4238"})
    void loadingLossOfUsualRatios(double times, double lossDb) {
        double source = 200;
        Complex y = new Complex(1 / (times * source));
        assertThat(Divider.lossDb(new Complex(source), y)).isCloseTo(lossDb, within(5e-5));
        assertThat(-20 * Math.log10(Divider.response(new Complex(source), y).abs()))
                .isCloseTo(lossDb, within(5e-5));
    }

    @Test
    void tenTimesTheSourceKeepsTenEleventhsOfTheVoltage() {
        assertThat(Divider.response(new Complex(200), new Complex(1 / 2000.0)).getReal())
                .isCloseTo(0.909, within(5e-4));
    }

    // Closed form, recomputed with numpy.
    @Test
    void ratioOfTwoLoadsOnAReactiveSource() {
        Complex r = Divider.ratio(SOURCE, new Complex(1 / 150.0), new Complex(1 / 1500.0));
        assertThat(r.getReal()).isCloseTo(0.531090, within(5e-7));
        assertThat(r.getImaginary()).isCloseTo(-0.090287, within(5e-7));
    }

    // Closed form: the two-resistor formula Z = R_a·R_b·(1 − r)/(r·R_b − R_a) that leaves the input out gives
    // Z ∥ Z_in = 200 · 1500/1700.
    @Test
    void forgettingTheInputGivesTheParallelCombination() {
        InputImpedance input = InputImpedance.ofOhms(1500, 5);
        double a = 150;
        double b = 1500;
        Complex r = Divider.ratio(
                new Complex(200),
                Divider.admittance(Load.ofOhms(a, 1), input, 1000),
                Divider.admittance(Load.ofOhms(b, 1), input, 1000));
        double z = a * b * (1 - r.getReal()) / (r.getReal() * b - a);
        assertThat(z).isCloseTo(176.4706, within(5e-5));
    }

    // Closed form Z_L/(Z + Z_L).
    @Test
    void responseIsTheTransmissionIntoTheSameAdmittance() {
        Complex y = Divider.admittance(Load.ofOhms(470, 1), InputImpedance.ofOhms(3000, 5, 470, 20), 12_000);
        Complex load = y.reciprocal();
        Complex difference = Divider.response(SOURCE, y).subtract(load.divide(SOURCE.add(load)));
        assertThat(difference.abs()).isLessThan(1e-15);
    }

    @Test
    void openIntoNothingLosesNothing() {
        Complex y = Divider.admittance(Load.open(), InputImpedance.unknown(), 1000);
        assertThat(Divider.response(SOURCE, y).subtract(Complex.ONE).abs()).isZero();
        assertThat(Divider.lossDb(SOURCE, y)).isZero();
    }
}
