package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import ohmprint.circuit.AddedInput.PhantomFedInput;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class InputImpedanceTest {
    private static final InputImpedance STATED = InputImpedance.ofOhms(3000, 5, 470, 20);

    @Test
    void resistanceAndCapacitanceAddAsAdmittances() {
        Complex y = STATED.admittance(20_000);
        assertThat(y.getReal()).isCloseTo(1 / 3000.0, within(1e-18));
        // ωC = 2π · 20 kHz · 470 pF = 59.0619 µS.
        assertThat(y.getImaginary()).isCloseTo(59.0619e-6, within(5e-11));
    }

    @Test
    void labelStatesValueAndTolerance() {
        assertThat(STATED.label()).isEqualTo("3000 Ω ± 5 % ∥ 470 pF");
        assertThat(InputImpedance.ofOhms(2200, 0.5).label()).isEqualTo("2200 Ω ± 0.5 %");
        assertThat(InputImpedance.unknown().label()).isEqualTo("unknown");
        assertThat(STATED.withPhantomFeeds().label()).isEqualTo("3000 Ω ± 5 % ∥ 470 pF ∥ phantom feeds 13620 Ω");
    }

    @Test
    void unknownInputIsNothingAndSaysSo() {
        InputImpedance unknown = InputImpedance.unknown();
        assertThat(unknown.isKnown()).isFalse();
        assertThat(unknown.admittance(1000)).isEqualTo(Complex.ZERO);
        assertThat(unknown.standardEffects(1000)).isEmpty();
        assertThat(unknown.withPhantomFeeds()).isEqualTo(unknown);
    }

    @Test
    void knownCapacitanceOfAnUnknownInputIsTakenOff() {
        InputImpedance cable = InputImpedance.unknownResistance(470, 20);
        assertThat(cable.isKnown()).isFalse();
        assertThat(cable.label()).isEqualTo("unknown ∥ 470 pF");
        assertThat(cable.admittance(20_000).getReal()).isZero();
        assertThat(cable.admittance(20_000).getImaginary()).isCloseTo(59.0619e-6, within(5e-11));
        assertThat(cable.standardEffects(20_000)).hasSize(1);
        assertThat(cable.standardEffects(20_000).get(0))
                .isEqualTo(STATED.standardEffects(20_000).get(1));
    }

    // Closed form R·13620/(R + 13620), recomputed with numpy; feeds of 2 × 6.81 kΩ: common practice, no source.
    @ParameterizedTest
    @CsvSource({"1000, 931.60", "1500, 1351.19", "2000, 1743.92", "3000, 2458.48"})
    void phantomFeedsLieInParallel(double ohm, double withFeeds) {
        Complex y = InputImpedance.ofOhms(ohm, 5).withPhantomFeeds().admittance(1000);
        assertThat(1 / y.getReal()).isCloseTo(withFeeds, within(5e-3));
        assertThat(y.getImaginary()).isZero();
    }

    @Test
    void phantomFeedsAreAddedOnce() {
        InputImpedance fed = STATED.withPhantomFeeds();
        assertThat(fed.withPhantomFeeds()).isEqualTo(fed);
        assertThat(fed.standardEffects(1000)).hasSize(3);
        assertThatIllegalArgumentException().isThrownBy(() -> new PhantomFedInput(fed));
    }

    @Test
    void effectsAreTheChangesByOneStandardDeviation() {
        double u = 0.05 / Math.sqrt(3);
        double v = 0.20 / Math.sqrt(3);
        double f = 10_000;
        Complex base = STATED.admittance(f);
        List<Complex> effects = STATED.standardEffects(f);
        double small = 1e-6;
        Complex byR = InputImpedance.ofOhms(3000 * (1 + small * u), 5, 470, 20).admittance(f);
        Complex byC = InputImpedance.ofOhms(3000, 5, 470 * (1 + small * v), 20).admittance(f);
        assertThat(byR.subtract(base).divide(small).subtract(effects.get(0)).abs())
                .isLessThan(1e-5 * effects.get(0).abs());
        assertThat(byC.subtract(base).divide(small).subtract(effects.get(1)).abs())
                .isLessThan(1e-5 * effects.get(1).abs());
    }

    @Test
    void curveIsExactAtItsPointsAndLinearInAdmittanceBetween() {
        InputImpedance curve = InputImpedance.ofCurve(
                new double[] {100, 400}, new Complex[] {new Complex(1000), new Complex(500)}, new double[] {0.01, 0.03
                });
        assertThat(curve.admittance(100).getReal()).isCloseTo(1e-3, within(1e-15));
        assertThat(curve.admittance(400).getReal()).isCloseTo(2e-3, within(1e-15));
        // 200 Hz is the middle of 100 Hz to 400 Hz in ln f.
        assertThat(curve.admittance(200).getReal()).isCloseTo(1.5e-3, within(1e-15));
        assertThat(curve.standardEffects(200).get(0).getReal()).isCloseTo(1.5e-3 * 0.02, within(1e-15));
        assertThat(curve.standardEffects(200).get(1).getImaginary()).isCloseTo(1.5e-3 * 0.02, within(1e-15));
    }

    @Test
    void curveOfAStatedInputReproducesIt() {
        double[] f = new double[31];
        Complex[] z = new Complex[31];
        for (int i = 0; i < f.length; i++) {
            f[i] = 20 * Math.pow(10, i / 10.0);
            z[i] = STATED.admittance(f[i]).reciprocal();
        }
        InputImpedance curve = InputImpedance.ofCurve(f, z, new double[31]);
        for (double at = 20; at < 20_000; at *= 1.07) {
            Complex y = STATED.admittance(at);
            // ωC is not linear in ln f: third-octave steps err by (0.23)²/8 = 0.7 % of ωC at most.
            assertThat(curve.admittance(at).subtract(y).abs()).isLessThan(0.007 * y.getImaginary());
        }
    }

    @Test
    void curveHoldsForHalfAnOctaveBeyondItsEndsAndNoFurther() {
        InputImpedance curve = InputImpedance.ofCurve(
                new double[] {20, 20_000},
                new Complex[] {new Complex(1000), new Complex(500, -100)},
                new double[] {0.01, 0.01});
        assertThat(curve.admittance(15)).isEqualTo(curve.admittance(20));
        assertThat(curve.admittance(28_000)).isEqualTo(curve.admittance(20_000));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> curve.admittance(14))
                .withMessageContaining("20 Hz to 20000 Hz")
                .withMessageContaining("14.0 Hz")
                .withMessageContaining("narrow the frequency range");
        assertThatIllegalArgumentException().isThrownBy(() -> curve.admittance(28_300));
        assertThatIllegalArgumentException().isThrownBy(() -> curve.admittance(Double.NaN));
    }

    @Test
    void curveKeepsItsOwnCopyOfTheArrays() {
        double[] f = {100, 400};
        Complex[] z = {new Complex(1000), new Complex(500)};
        InputImpedance curve = InputImpedance.ofCurve(f, z, new double[2]);
        f[0] = 1;
        z[0] = Complex.I;
        assertThat(curve.admittance(100).getReal()).isCloseTo(1e-3, within(1e-15));
        assertThat(curve.label()).startsWith("measured, 100 Hz");
    }

    @Test
    void curveThatCannotBeIsRefused() {
        Complex[] z = {new Complex(1000), new Complex(500)};
        double[] u = {0, 0};
        assertThatIllegalArgumentException()
                .isThrownBy(() -> InputImpedance.ofCurve(new double[] {400, 100}, z, u))
                .withMessageContaining("point 2")
                .withMessageContaining("100.0 Hz");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> InputImpedance.ofCurve(new double[] {100}, new Complex[] {z[0]}, new double[1]))
                .withMessageContaining("two or more");
        assertThatIllegalArgumentException()
                .isThrownBy(
                        () -> InputImpedance.ofCurve(new double[] {100, 400}, new Complex[] {z[0], Complex.ZERO}, u))
                .withMessageContaining("400.0 Hz");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> InputImpedance.ofCurve(new double[] {100, 400}, z, new double[] {0, 1}))
                .withMessageContaining("1.0 at 400.0 Hz");
    }

    @Test
    void impossibleStatedValuesAreRefused() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> InputImpedance.ofOhms(0, 5))
                .withMessageContaining("input resistance of 0.0 Ω");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> InputImpedance.ofOhms(3000, 5, -1, 20))
                .withMessageContaining("-1.0 pF");
        assertThatIllegalArgumentException().isThrownBy(() -> InputImpedance.ofOhms(3000, 5, 470, Double.NaN));
    }
}
