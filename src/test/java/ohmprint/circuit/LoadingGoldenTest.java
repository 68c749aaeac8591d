package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Loss into a load against the AC analysis of a circuit simulator (ngspice 39, {@code fixtures/make/loading.py}), which
 * knows neither impedance curves nor this program.
 */
class LoadingGoldenTest {
    /** What nine digits of the stored curve and of the stored loss leave. */
    private static final double EXACT_DB = 1e-6;

    /** How near the loss has to be where the curve is within 0.1 %. */
    private static final double WANTED_DB = 0.02;

    private static final double CURVE_ERROR = 0.001;
    private static final Pattern LOAD = Pattern.compile("loss_(\\d+)_ohm_(\\d+)_pf_db");

    @ParameterizedTest
    @ValueSource(
            strings = {
                "active-coupled",
                "coil-cable",
                "coil-eddy",
                "coil-simple",
                "ribbon-cable",
                "ribbon-leaky",
                "ribbon-plain",
                "ribbon-shorted"
            })
    void lossAgreesWithTheCircuitSimulator(String name) throws IOException {
        assertThat(worst(name, 0, 0)).isLessThan(EXACT_DB);
        double worst = 0;
        for (double angle = 0; angle < 360; angle += 30) {
            worst = Math.max(worst, worst(name, CURVE_ERROR, Math.toRadians(angle)));
        }
        assertThat(worst).isGreaterThan(100 * EXACT_DB).isLessThan(WANTED_DB);
    }

    /** Greatest deviation in decibels over all loads and bands, of a curve that is off by a part of itself. */
    private static double worst(String name, double error, double angle) throws IOException {
        List<double[]> curve = rows(Path.of("fixtures/golden", name + ".csv"));
        Path file = Path.of("fixtures/loading", name + ".csv");
        List<double[]> losses = rows(file);
        SourceCurve source = SourceCurve.of(curve(curve, Complex.valueOf(1).add(polar(error, angle))), 19, 20_600);
        List<MatchResult> loads =
                LOAD.matcher(Files.readAllLines(file).get(0)).results().toList();
        assertThat(loads).hasSize(7);
        double worst = 0;
        for (int column = 0; column < loads.size(); column++) {
            MatchResult load = loads.get(column);
            InputImpedance input =
                    InputImpedance.ofOhms(Double.parseDouble(load.group(1)), 0, Double.parseDouble(load.group(2)), 0);
            LoadedCurve loaded = LoadedCurve.of(source, input);
            assertThat(loaded.losses()).hasSize(losses.size());
            for (int i = 0; i < losses.size(); i++) {
                double wanted = losses.get(i)[column + 1];
                worst = Math.max(worst, Math.abs(loaded.losses().get(i).value() - wanted));
            }
        }
        return worst;
    }

    private static Complex polar(double modulus, double angle) {
        return new Complex(modulus * Math.cos(angle), modulus * Math.sin(angle));
    }

    private static ImpedanceCurve curve(List<double[]> rows, Complex factor) {
        FrequencyBands bands = FrequencyBands.within(12, 19, 20_600);
        List<BandValue> values = new ArrayList<>();
        for (double[] row : rows) {
            Complex z = new Complex(row[1], row[2]).multiply(factor);
            values.add(BandValue.complex(
                    row[0],
                    z.getReal(),
                    z.getImaginary(),
                    PlaneCovariance.ZERO,
                    0,
                    0,
                    60,
                    new BandBudget(0, 0, 0, 0, 0)));
        }
        return new ImpedanceCurve(bands, values, false);
    }

    private static List<double[]> rows(Path file) throws IOException {
        return Files.readAllLines(file).stream()
                .skip(1)
                .map(line -> Arrays.stream(line.split(","))
                        .mapToDouble(Double::parseDouble)
                        .toArray())
                .toList();
    }
}
