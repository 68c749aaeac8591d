package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Usability;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Sessions in which something is not as it was entered, where no take alone can be blamed: what is said is wide enough, doubtful,
 * or refused. The truth is that of the circuit, not of the program.
 */
@Tag("statistics")
class ContradictingTakesTest {
    private static final Truth COIL = Truth.of(SimulatedSession.COIL::impedance);
    private static final double FROM_HZ = 50;
    private static final double TO_HZ = 12_000;

    /** Beyond this no curve is a result, whatever it says of itself, per cent in the median band. */
    private static final double ABSURD_PERCENT = 30;

    @TempDir
    Path dir;

    /** Three loads with a reference channel; the truth at 1 kHz is 292 Ω (ngspice), seven times that was stated with ± 1.5 %. */
    @Test
    void aWrongLoadAmongThreeIsRefusedByName() throws Exception {
        TakeFolder session = TakeFolder.copyOf("ribbon-reference", dir).manifest("load_ohm: 680", "load_ohm: 1000");
        MeasureOutcome outcome = session.measure();
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.UNUSABLE);
        assertThat(outcome.folder()).isNull();
        assertThat(Files.exists(session.result())).isFalse();
        assertThat(TakeFolder.findings(outcome, FindingCode.INCONSISTENT))
                .singleElement()
                .satisfies(f -> assertThat(f.message())
                        .contains("take-1.wav as 220 Ω", "take-2.wav as 1000 Ω", "take-3.wav as 2200 Ω")
                        .contains("check the loads", "measure again"));
    }

    @ParameterizedTest
    @CsvSource({"1, 900", "2, 1100"})
    void aWrongLoadBetweenRepeatedOnesIsNotUsable(long seed, double entered) throws Exception {
        double[] sweep = SimulatedSession.sweep();
        Measurement m = measurement(new SimulatedSession(dir, seed)
                .take(sweep, 150)
                .take(sweep, SimulatedSession.COIL, 1000, entered, 1)
                .take(sweep, 2200)
                .take(sweep, 150)
                .folder("sweep", sweep));
        neverAbsurd(m);
    }

    @ParameterizedTest
    @CsvSource({"1, 150, 330, 680, 2200", "2, 330, 150, 680, 2200", "5, 680, 330, 150, 2200"})
    void swappedLoadsAmongFourAreNotUsable(long seed, double a, double b, double c, double d) throws Exception {
        double[] sweep = SimulatedSession.sweep();
        double[] loads = {150, 330, 680, 2200};
        double[] entered = {a, b, c, d};
        SimulatedSession bench = new SimulatedSession(dir, seed);
        for (int k = 0; k < loads.length; k++) {
            bench.take(sweep, SimulatedSession.COIL, loads[k], entered[k], 1);
        }
        if (seed == 1) {
            assertThat(measurement(bench.folder("sweep", sweep)).usability()).isEqualTo(Usability.USABLE);
        } else {
            neverAbsurd(measurement(bench.folder("sweep", sweep)));
        }
    }

    /** Loads swapped among three, and all three turned round: nothing tells which, so nothing is stated. */
    @ParameterizedTest
    @CsvSource({"680, 150, 2200", "2200, 680, 150"})
    void loadsInAnotherOrderAreNotUsable(double a, double b, double c) throws Exception {
        double[] sweep = SimulatedSession.sweep();
        neverAbsurd(measurement(new SimulatedSession(dir, 7)
                .take(sweep, SimulatedSession.COIL, 150, a, 1)
                .take(sweep, SimulatedSession.COIL, 680, b, 1)
                .take(sweep, SimulatedSession.COIL, 2200, c, 1)
                .folder("sweep", sweep)));
    }

    private static Measurement measurement(TakeFolder session) throws Exception {
        return MeasureSession.measurement(MeasureRequest.of(session.folder));
    }

    private static void neverAbsurd(Measurement m) {
        assertThat(m.usability()).isNotEqualTo(Usability.USABLE);
        assertThat(List.of(FindingCode.INCONSISTENT, FindingCode.LOAD_MISMATCH, FindingCode.LEVEL_DRIFT))
                .as("one of them is said")
                .anyMatch(code -> m.findings().stream().anyMatch(f -> f.code() == code));
        if (m.usability() == Usability.DOUBTFUL) {
            assertThat(COIL.score(m.curve(), FROM_HZ, TO_HZ).magnitudePercent(50))
                    .as("median error, %%")
                    .isLessThan(ABSURD_PERCENT);
        }
    }
}
