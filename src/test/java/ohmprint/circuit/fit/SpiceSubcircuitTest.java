package ohmprint.circuit.fit;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import ohmprint.NeedsPackage;
import ohmprint.circuit.ModelCurves;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** ngspice runs the subcircuit, and its AC analysis is the curve. */
@Tag("process")
class SpiceSubcircuitTest {
    /** Of the exported circuit against the curve. */
    private static final double CLOSE = 0.01;

    /** Of the exported circuit against the fitted one: digits of the netlist, and the chain. */
    private static final double SAME = 1e-3;

    @TempDir
    Path folder = Path.of(".");

    @ParameterizedTest
    @ValueSource(strings = {"active-coupled", "coil-eddy", "ribbon-plain", "ribbon-shorted"})
    @NeedsPackage("ngspice")
    void theSimulatorGivesTheCurve(String name) throws Exception {
        follows(GoldenCurves.curve(name, 1e-5, 1));
    }

    @Test
    @NeedsPackage("ngspice")
    void theSimulatorGivesAnInductorWithLoss() throws Exception {
        SourceModel coil = new MovingCoil(200, new LossyInductor(0.02, 0.7), Resonance.ofPeak(100, 150, 1));
        FittedCircuit circuit = follows(ModelCurves.noisy(coil, FrequencyBands.within(12, 20, 20_000), 1e-5, 1));
        assertThat(circuit.words()).contains("inductor with loss");
    }

    private FittedCircuit follows(ImpedanceCurve curve) throws IOException, InterruptedException {
        FittedCircuit circuit = CircuitFit.of(curve, null, null);
        int[] told = IntStream.range(0, curve.values().size())
                .filter(i -> i % 4 == 0)
                .toArray();
        double[] hz = IntStream.of(told).mapToDouble(curve.bands()::midband).toArray();
        Complex[] simulated = simulated(SpiceSubcircuit.of(circuit, "Bench ribbon 7", List.of("a comment")), hz);
        for (int i = 0; i < hz.length; i++) {
            BandValue value = curve.values().get(told[i]);
            Complex z = new Complex(value.resistanceOhm(), value.reactanceOhm());
            Complex fitted = circuit.impedance(hz[i]);
            assertThat(simulated[i].subtract(z).abs() / z.abs())
                    .as("%s Hz", hz[i])
                    .isLessThan(CLOSE);
            assertThat(simulated[i].subtract(fitted).abs() / fitted.abs())
                    .as("%s Hz", hz[i])
                    .isLessThan(SAME);
        }
        return circuit;
    }

    /** One ampere into pin b; the resistor is a way to ground for direct current, far above all that is measured. */
    private Complex[] simulated(String subcircuit, double[] hz) throws IOException, InterruptedException {
        Files.writeString(folder.resolve("microphone.cir"), subcircuit);
        Path out = folder.resolve("out.txt");
        StringBuilder deck = new StringBuilder("impedance of a subcircuit\n.include microphone.cir\n"
                + "X1 0 out bench_ribbon_7\nI1 0 out AC 1\nRdc out 0 1e12\n.control\nset numdgt=12\n"
                + "set wr_singlescale\nset wr_vecnames\n");
        for (int i = 0; i < hz.length; i++) {
            deck.append(String.format(Locale.ROOT, "ac lin 1 %.9f %.9f%n", hz[i], hz[i]))
                    .append("wrdata point" + i + ".txt real(v(out)) imag(v(out))\n");
        }
        Files.writeString(folder.resolve("deck.cir"), deck + "quit\n.endc\n.end\n");
        Process process = new ProcessBuilder("ngspice", "-b", "deck.cir")
                .directory(folder.toFile())
                .redirectErrorStream(true)
                .redirectOutput(out.toFile())
                .start();
        assertThat(process.waitFor(60, TimeUnit.SECONDS)).isTrue();
        Complex[] z = new Complex[hz.length];
        for (int i = 0; i < hz.length; i++) {
            Path point = folder.resolve("point" + i + ".txt");
            assertThat(point).as("what ngspice said: %s", Files.readString(out)).exists();
            String[] cells = Files.readAllLines(point).get(1).strip().split("\\s+");
            z[i] = new Complex(Double.parseDouble(cells[1]), Double.parseDouble(cells[2]));
        }
        return z;
    }

    @Test
    void namesAreThoseThatSpiceAllows() {
        assertThat(SpiceSubcircuit.name("Bench ribbon 7")).isEqualTo("bench_ribbon_7");
        assertThat(SpiceSubcircuit.name("7 – Größe/Ω")).isEqualTo("microphone_7_gr_e");
        assertThat(SpiceSubcircuit.name("Ω")).isEqualTo("microphone_");
    }
}
