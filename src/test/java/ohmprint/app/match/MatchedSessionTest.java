package ohmprint.app.match;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import ohmprint.app.Progress;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.measure.MeasureSession;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.PredictedValue;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Losses of a measured session against those of its circuit. */
class MatchedSessionTest {
    private static final Path SESSION = Path.of("fixtures/sessions/coil-two-loads");

    @TempDir
    static Path measured;

    @BeforeAll
    static void measure() throws Exception {
        Path result = measured.resolve("result");
        MeasureSession.run(new MeasureRequest(SESSION, result, null, null, 20, 20_000, false), Progress.SILENT);
    }

    /**
     * From takes to losses: a session whose takes ngspice divided, measured, against the AC analysis of its circuit by
     * ngspice 39 ({@code fixtures/make/loading.py}).
     */
    @Test
    void lossesFromTakesAgreeWithTheCircuitSimulator() throws Exception {
        MatchOutcome outcome = MatchCurve.run(MatchRequest.of(measured.toString(), 150, 600, 1500));
        List<double[]> truth = rows(SESSION.resolve("truth.csv"));
        List<double[]> losses = rows(Path.of("fixtures/loading/session-coil-two-loads.csv"));
        int within = 0;
        for (int i = 0; i < outcome.measurement().curve().values().size(); i++) {
            BandValue v = outcome.measurement().curve().values().get(i);
            int row = nearest(truth, v.frequencyHz());
            double error = Math.hypot(v.resistanceOhm() - truth.get(row)[1], v.reactanceOhm() - truth.get(row)[2]);
            if (error <= 0.001 * Math.hypot(truth.get(row)[1], truth.get(row)[2])) {
                within++;
                for (int load = 0; load < 3; load++) {
                    assertThat(outcome.inputs().get(load).losses().get(i).value())
                            .as("%s at %s Hz", outcome.inputs().get(load).name(), v.frequencyHz())
                            .isCloseTo(losses.get(row)[load + 1], within(0.02));
                }
            }
        }
        assertThat(within).isGreaterThan(60);
    }

    /** The uncertainty that takes leave covers the error of the losses and of the changes they imply. */
    @Test
    void statedUncertaintiesCoverTheErrorsOfASession() throws Exception {
        LoadPrediction p = MatchCurve.run(MatchRequest.of(measured.toString(), 600))
                .inputs()
                .get(0);
        List<double[]> losses = rows(Path.of("fixtures/loading/session-coil-two-loads.csv"));
        double reference = Math.sqrt(losses.get(nearest(losses, 971.6))[2] * losses.get(nearest(losses, 1029.2))[2]);
        int covered = 0;
        int changes = 0;
        for (int i = 0; i < p.losses().size(); i++) {
            double wanted = losses.get(nearest(losses, p.losses().get(i).hz()))[2];
            covered += Math.abs(p.losses().get(i).value() - wanted)
                            <= p.losses().get(i).u95()
                    ? 1
                    : 0;
            PredictedValue change = p.changes().get(i);
            changes += Math.abs(change.value() - (reference - wanted)) <= change.u95() + 1e-4 ? 1 : 0;
        }
        assertThat(covered / (double) p.losses().size()).isGreaterThan(0.9);
        assertThat(changes / (double) p.losses().size()).isGreaterThan(0.9);
    }

    private static int nearest(List<double[]> rows, double hz) {
        int best = 0;
        for (int i = 0; i < rows.size(); i++) {
            best = Math.abs(rows.get(i)[0] - hz) < Math.abs(rows.get(best)[0] - hz) ? i : best;
        }
        return best;
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
