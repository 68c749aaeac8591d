package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import ohmprint.circuit.SourceModel.CapacitorCoupled;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.circuit.SourceModel.RibbonTransformer;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SourceModelTest {
    private static void assertImpedance(SourceModel model, double hz, double r, double x, double tolerance) {
        Complex z = model.impedance(hz);
        assertThat(z.getReal()).as("R at %s Hz", hz).isCloseTo(r, within(tolerance));
        assertThat(z.getImaginary()).as("X at %s Hz", hz).isCloseTo(x, within(tolerance));
    }

    // W. M. Leach, JAES 50(6), 2002: K·ω^n·(cos nπ/2 + j·sin nπ/2); values recomputed with numpy.
    @ParameterizedTest
    @CsvSource({"1000, 4.138116, 8.121510", "10000, 20.739709, 40.703972"})
    void lossyInductor(double hz, double r, double x) {
        assertImpedance(new LossyInductor(0.02, 0.7), hz, r, x, 1e-6);
    }

    @Test
    void inductorWithoutLossHasNoResistance() {
        assertImpedance(LossyInductor.ofHenries(1e-3), 1000, 0, 2 * Math.PI, 1e-12);
        assertThat(LossyInductor.ofHenries(1e-3).impedance(20_000).getReal()).isZero();
    }

    // Closed form recomputed with numpy; ngspice 39 AC analysis agrees.
    @ParameterizedTest
    @CsvSource({"150, 300.0000, 0.94248", "1000, 202.3006, -8.70905", "10000, 200.0225, 61.33185"})
    void movingCoil(double hz, double r, double x) {
        MovingCoil coil =
                new MovingCoil(200, LossyInductor.ofHenries(1e-3), new Resonance(100, 0.106103295, 10.6103295e-6));
        assertImpedance(coil, hz, r, x, 6e-5);
    }

    @Test
    void resonanceByItsPeakHasTheSameParts() {
        Resonance byPeak = Resonance.ofPeak(100, 150, 1);
        assertThat(byPeak.henries()).isCloseTo(0.106103295, within(1e-9));
        assertThat(byPeak.farads()).isCloseTo(10.6103295e-6, within(1e-13));
        assertImpedance(byPeak, 150, 100, 0, 1e-9);
        // Z = R/(1 + jQ(f/f₀ − f₀/f)): at twice the frequency with Q = 2 that is R/(1 + 3j).
        assertImpedance(Resonance.ofPeak(100, 150, 2), 300, 10, -30, 1e-9);
    }

    // Closed form recomputed with numpy.
    @ParameterizedTest
    @CsvSource({"150, 281.9964, 55.6326", "1000, 293.5174, 8.9412", "10000, 293.7917, 3.2202"})
    void ribbonWithTransformer(double hz, double r, double x) {
        assertImpedance(new RibbonTransformer(1e-3, 1.369, 0.99999, 0.2, 20, 10e-6, 0, null), hz, r, x, 6e-5);
    }

    // ngspice 39 AC analysis of the same ribbon with a motional part (0.1 Ω, 60 Hz, Q = 1) at the primary and 1 nF
    // across the output: two inductors of 1 mH and 1.369 H with K = 0.99999, 1 A into the secondary.
    @ParameterizedTest
    @CsvSource({
        "30, 123.6375184, 152.6809653",
        "60, 271.4966012, 200.1034452",
        "1000, 294.5358894, 0.2310578",
        "20000, 293.7445105, -6.1261850"
    })
    void ribbonWithMotionalPartAndWindingCapacitance(double hz, double r, double x) {
        RibbonTransformer ribbon =
                new RibbonTransformer(1e-3, 1.369, 0.99999, 0.2, 20, 10e-6, 1e-9, Resonance.ofPeak(0.1, 60, 1));
        assertImpedance(ribbon, hz, r, x, 1e-5);
    }

    // Closed form n²·r: the middle of the band of a transformer with turns ratio n, coupling 1 and a large inductance.
    @ParameterizedTest
    @CsvSource({"28, 156.8", "35, 245", "37, 273.8", "40, 320"})
    void idealTransformerMultipliesByTheSquareOfTheTurnsRatio(double n, double ohm) {
        RibbonTransformer ribbon = new RibbonTransformer(10, 10 * n * n, 1, 0.2, 0, 0, 0, null);
        assertImpedance(ribbon, 1000, ohm, 0, 1e-2);
    }

    // Closed form: 1/ωC of 10 µF at 159.155 Hz is 100 Ω.
    @Test
    void capacitorCoupledOutput() {
        assertImpedance(new CapacitorCoupled(50, 10e-6), 159.1549431, 50, -100, 1e-6);
        assertImpedance(new CapacitorCoupled(50, 10e-6), 15915.49431, 50, -1, 1e-8);
    }

    @Test
    void impossiblePartsAreRefusedByName() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new LossyInductor(0.02, 1.2))
                .withMessageContaining("exponent of 1.2");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new RibbonTransformer(1e-3, 1, 1.1, 0.2, 0, 0, 0, null))
                .withMessageContaining("coupling of 1.1");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new CapacitorCoupled(50, 0))
                .withMessageContaining("capacitance of 0.0 F");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new MovingCoil(-1, LossyInductor.ofHenries(0), null))
                .withMessageContaining("-1.0 Ω");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Resonance(100, Double.NaN, 1e-6))
                .withMessageContaining("inductance of NaN H");
    }
}
