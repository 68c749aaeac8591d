package ohmprint.circuit.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.SplittableRandom;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.circuit.SourceModel.RibbonTransformer;
import ohmprint.circuit.fit.Part.Parallel;
import ohmprint.circuit.fit.Part.Series;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;

/** Impedances against the closed forms of the circuit package, derivatives against differences. */
class PartTest {
    private static final Part RIBBON = new Parallel(
            new Series(List.of(
                    new Part.Resistor("winding"),
                    new Part.Inductor("leakage"),
                    new Parallel(
                            new Part.Inductor("magnetising"),
                            new Series(List.of(new Part.Resistor("ribbon"), new Part.Tuned("resonance")))))),
            new Part.Capacitor("shunt"));

    private static final Part COIL =
            new Series(List.of(new Part.Resistor("coil"), new Part.LossyInductor(), new Part.Tuned("resonance")));

    private static Complex at(Part part, double hz, double... p) {
        return part.impedance(2 * Math.PI * hz, p, 0, new Complex[p.length]);
    }

    @Test
    void aRibbonSeenFromTheOutputIsTheTransformerOfTheCircuitPackage() {
        double k = 0.9995;
        double up = k * k * 1369;
        RibbonTransformer whole =
                new RibbonTransformer(1e-3, 1.369, k, 0.2, 20, 1e-5, 1e-9, Resonance.ofPeak(0.06, 48, 2));
        for (double hz : new double[] {20, 48, 200, 1000, 20_000}) {
            Complex seen = at(
                    RIBBON,
                    hz,
                    Math.log(20),
                    Math.log((1 - k * k) * 1.369 + 1e-5),
                    Math.log(k * k * 1.369),
                    Math.log(up * 0.2),
                    Math.log(up * 0.06),
                    Math.log(48),
                    Math.log(2),
                    Math.log(1e-9));
            assertThat(seen.subtract(whole.impedance(hz)).abs()).isLessThan(1e-9 * seen.abs());
        }
    }

    @Test
    void aCoilWithLossIsThatOfTheCircuitPackage() {
        MovingCoil whole = new MovingCoil(200, new LossyInductor(0.02, 0.7), Resonance.ofPeak(100, 150, 1));
        double m = Math.log(0.02 * Math.pow(2000 * Math.PI, 0.7));
        double[] p = {Math.log(200), m, Math.log(0.7 / 0.3), Math.log(100), Math.log(150), 0};
        for (double hz : new double[] {20, 150, 1000, 20_000}) {
            Complex seen = at(COIL, hz, p);
            assertThat(seen.subtract(whole.impedance(hz)).abs()).isLessThan(1e-9 * seen.abs());
        }
        assertThat(COIL.values().get(1).of().from(p, 0)).isEqualTo(0.02, within(1e-9));
        assertThat(COIL.values().get(2).of().from(p, 0)).isEqualTo(0.7, within(1e-9));
    }

    @Test
    void derivativesAreThoseOfDifferences() {
        SplittableRandom random = new SplittableRandom(1);
        for (Part part : List.of(RIBBON, COIL)) {
            double[] p = random.doubles(part.size(), -1, 1).toArray();
            for (double omega : new double[] {0.3, 1, 4}) {
                Complex[] slopes = new Complex[p.length];
                part.impedance(omega, p, 0, slopes);
                for (int i = 0; i < p.length; i++) {
                    double kept = p[i];
                    p[i] = kept + 1e-6;
                    Complex up = part.impedance(omega, p, 0, new Complex[p.length]);
                    p[i] = kept - 1e-6;
                    Complex down = part.impedance(omega, p, 0, new Complex[p.length]);
                    p[i] = kept;
                    Complex difference = up.subtract(down).divide(2e-6);
                    assertThat(slopes[i].subtract(difference).abs())
                            .as("parameter %s of %s", i, part)
                            .isLessThan(1e-7 * (1 + difference.abs()));
                }
            }
        }
    }
}
