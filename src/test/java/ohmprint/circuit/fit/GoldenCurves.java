package ohmprint.circuit.fit;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import ohmprint.circuit.ModelCurves;
import ohmprint.circuit.SourceModel;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import org.apache.commons.math3.complex.Complex;

/** Impedances that ngspice computed for the circuits in fixtures/golden, with noise of 60 dB when wanted. */
final class GoldenCurves {
    static final double SIXTY_DB = 1e-3;

    static final List<String> NAMES = List.of(
            "active-coupled",
            "coil-cable",
            "coil-eddy",
            "coil-simple",
            "ribbon-cable",
            "ribbon-leaky",
            "ribbon-plain",
            "ribbon-shorted");

    private GoldenCurves() {}

    /** The values that the netlists have, seen from the output, by the words of the fit. */
    static Map<String, Double> truth(String name) {
        return switch (name) {
            case "active-coupled" -> Map.of("output_ohm", 75.0, "coupling_farad", 10e-6, "inductance_henry", 40e-6);
            case "coil-simple" -> coil(200, Map.of("inductance_henry", 1e-3), 100, 0.106103295, 10.6103295e-6);
            case "coil-cable" ->
                coil(
                        560,
                        Map.of(
                                "bridged_henry", 1e-3,
                                "bridging_ohm", 150.0,
                                "second_bridged_henry", 2e-3,
                                "second_bridging_ohm", 2000.0,
                                "shunt_farad", 2.2e-9),
                        260,
                        0.3,
                        7e-6);
            case "coil-eddy" ->
                coil(
                        280,
                        Map.of(
                                "bridged_henry", 0.4e-3,
                                "bridging_ohm", 60.0,
                                "second_bridged_henry", 0.9e-3,
                                "second_bridging_ohm", 900.0,
                                "second_resonance_ohm", 25.0,
                                "second_resonance_hz", hz(0.7e-3, 4.7e-6),
                                "second_resonance_q", 25 * Math.sqrt(4.7e-6 / 0.7e-3)),
                        160,
                        0.12,
                        9e-6);
            case "ribbon-plain" -> ribbon(0.2, 0.06, 90e-6, 0.12, 1e-3, 37, 0.99999, 20, 1e-9);
            case "ribbon-leaky" -> ribbon(0.17, 0.05, 70e-6, 0.15, 0.7e-3, 29, 0.9995, 15, 1.5e-9);
            case "ribbon-cable" -> ribbon(0.2, 0.07, 100e-6, 0.1, 0.5e-3, 40, 0.9992, 22, 4.7e-9);
            default -> throw new IllegalArgumentException(name);
        };
    }

    private static Map<String, Double> coil(double ohm, Map<String, Double> others, double r, double l, double c) {
        Map<String, Double> out = new TreeMap<>(others);
        out.put("coil_ohm", ohm);
        out.putAll(Map.of("resonance_ohm", r, "resonance_hz", hz(l, c), "resonance_q", r * Math.sqrt(c / l)));
        return out;
    }

    private static Map<String, Double> ribbon(
            double r, double rm, double lm, double cm, double primary, double turns, double k, double w, double c) {
        double secondary = primary * turns * turns;
        double up = k * k * turns * turns;
        return Map.of(
                "winding_ohm", w,
                "leakage_henry", (1 - k * k) * secondary,
                "magnetising_henry", k * k * secondary,
                "ribbon_ohm", up * r,
                "resonance_ohm", up * rm,
                "resonance_hz", hz(lm, cm),
                "resonance_q", rm * Math.sqrt(cm / lm),
                "shunt_farad", c);
    }

    private static double hz(double henries, double farads) {
        return 1 / (2 * Math.PI * Math.sqrt(henries * farads));
    }

    /** The impedance at the frequencies of the table. */
    static SourceModel source(String name) {
        try {
            List<double[]> rows = Files.readAllLines(Path.of("fixtures/golden", name + ".csv")).stream()
                    .skip(1)
                    .map(line -> Arrays.stream(line.split(","))
                            .mapToDouble(Double::parseDouble)
                            .toArray())
                    .toList();
            return hz -> rows.stream()
                    .filter(r -> Math.abs(r[0] / hz - 1) < 1e-6)
                    .findFirst()
                    .map(r -> new Complex(r[1], r[2]))
                    .orElseThrow();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static ImpedanceCurve curve(String name, double noise, long seed) {
        return ModelCurves.noisy(source(name), FrequencyBands.within(12, 20, 20_000), noise, seed);
    }
}
