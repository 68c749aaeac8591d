package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import ohmprint.circuit.InputImpedance;
import ohmprint.estimation.BandSolver.BandFit;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Exact recovery of circuits whose impedance a circuit simulator computed (ngspice AC analysis, fixtures/golden). */
class GoldenCircuitsTest {
    /** What Gauss–Newton leaves of a noise-free value, relative to |Z|. */
    private static final double EXACT = 1e-8;

    private static final int TWELFTHS_OF_TEN_OCTAVES = 119;

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
    void everyBandIsRecoveredWithoutNoise(String name) throws IOException {
        List<double[]> rows = rows(name);
        assertThat(rows).hasSizeGreaterThanOrEqualTo(TWELFTHS_OF_TEN_OCTAVES);
        LoadedTakes takes = CircuitBins.resistors(InputImpedance.ofOhms(2500, 0, 600, 0), 150, 470, 1500);
        for (double[] row : rows) {
            Complex z = new Complex(row[1], row[2]);
            BinObservations obs = CircuitBins.of(hz -> z, takes, 1e-12).exact(row[0]);
            BandFit fit = Objects.requireNonNull(new BandSolver(obs, takes, List.of()).fit(0, 1, row[0], 0));
            Complex error = new Complex(fit.resistanceOhm(), fit.reactanceOhm()).subtract(z);
            assertThat(error.abs() / z.abs())
                    .as("relative error at %s Hz", row[0])
                    .isLessThan(EXACT);
        }
    }

    private static List<double[]> rows(String name) throws IOException {
        List<double[]> rows = new ArrayList<>();
        for (String line : Files.readAllLines(Path.of("fixtures/golden", name + ".csv"))) {
            if (!line.startsWith("frequency")) {
                String[] cells = line.split(",");
                rows.add(new double[] {
                    Double.parseDouble(cells[0]), Double.parseDouble(cells[1]), Double.parseDouble(cells[2])
                });
            }
        }
        return rows;
    }
}
