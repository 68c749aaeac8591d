package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.function.Consumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Usability;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Results that depend on the level: told with the take and a number; levels of a linear chain are not accused. */
@Tag("slow")
class NonlinearTest {
    private static final double LOW = Math.pow(10, -12.0 / 20);

    @TempDir
    Path dir;

    /** {@code y = x − a·x³}: the fundamental of amplitude A loses ¾·a·A². */
    private static Consumer<double[]> curved(double a) {
        return x -> {
            for (int i = 0; i < x.length; i++) {
                x[i] -= a * x[i] * x[i] * x[i];
            }
        };
    }

    /** The loudest frequencies reach about half of full scale in take 2, a fifth of it in take 1. */
    @ParameterizedTest
    @CsvSource({"0.5, true", "0.02, false"})
    void aTakeThatSaturatesMoreThanOthersIsNamed(double curvature, boolean named) throws Exception {
        TakeFolder session = TakeFolder.copyOf("coil-two-loads", dir);
        session.edit("take-1.wav", curved(curvature)).edit("take-2.wav", curved(curvature));
        MeasureOutcome outcome = session.measure();
        List<Finding> findings = TakeFolder.findings(outcome, FindingCode.NONLINEAR);
        assertThat(findings)
                .extracting(Finding::take)
                .containsExactly(named ? new String[] {"take-2.wav"} : new String[0]);
        if (named) {
            assertThat(number("about ([0-9.]+) dB", findings.get(0))).isBetween(0.05, 1.0);
            assertThat(outcome.measurement().usability()).isEqualTo(Usability.DOUBTFUL);
        }
    }

    @ParameterizedTest
    @CsvSource({"0, false", "0.1, false", "4, true"})
    void twoLoadsAtTwoLevelsAreCompared(double curvature, boolean named) throws Exception {
        double[] noise = SimulatedSession.pink(3, 1);
        TakeFolder session = new SimulatedSession(dir, 2)
                .take(noise, SimulatedSession.COIL, 150, 150, LOW)
                .take(noise, SimulatedSession.COIL, 2200, 2200, LOW)
                .take(noise, 150)
                .take(noise, 2200)
                .folder();
        session.edit("take-3.wav", curved(curvature)).edit("take-4.wav", curved(curvature));
        MeasureOutcome outcome = session.measure();
        List<Finding> findings = TakeFolder.findings(outcome, FindingCode.NONLINEAR);
        assertThat(findings)
                .extracting(Finding::take)
                .containsExactly(named ? new String[] {"take-3.wav"} : new String[0]);
        assertThat(TakeFolder.findings(outcome, FindingCode.LEVEL_DRIFT))
                .extracting(Finding::take)
                .containsExactly("take-3.wav", "take-4.wav");
        assertThat(outcome.measurement().usability()).isEqualTo(named ? Usability.DOUBTFUL : Usability.USABLE);
        if (named) {
            assertThat(number("([0-9.]+) % in the median", findings.get(0))).isGreaterThan(1);
            assertThat(number("([0-9.]+) dB higher", findings.get(0))).isBetween(11.0, 12.1);
        }
        Truth.Score score = Truth.of(SimulatedSession.COIL::impedance)
                .score(outcome.measurement().curve(), 40, 15_000);
        assertThat(score.magnitudePercent(95)).as("error of the curve, %%").isLessThan(2);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 10})
    void oneLoadAtTwoLevelsIsComparedInShape(double curvature) throws Exception {
        double[] sweep = SimulatedSession.sweep();
        TakeFolder session = new SimulatedSession(dir, 4)
                .take(sweep, SimulatedSession.COIL, 150, 150, LOW)
                .take(sweep, SimulatedSession.COIL, 2200, 2200, LOW)
                .take(sweep, 150)
                .folder("sweep", null);
        session.edit("take-3.wav", curved(curvature));
        MeasureOutcome outcome = session.measure();
        List<Finding> findings = TakeFolder.findings(outcome, FindingCode.NONLINEAR);
        assertThat(findings).hasSize(curvature > 0 ? 1 : 0).allSatisfy(f -> {
            assertThat(f.take()).isEqualTo("take-3.wav");
            assertThat(f.message()).containsPattern("[+-][0-9.]+ dB at [0-9]+ Hz");
        });
        // The level may have changed before take 2 as well: nothing in the takes tells.
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.DOUBTFUL);
    }

    @Test
    void aDriftOfATenthOfADecibelIsNoOtherLevel() throws Exception {
        double[] sweep = SimulatedSession.sweep();
        MeasureOutcome outcome = new SimulatedSession(dir, 5)
                .take(sweep, 150)
                .take(sweep, 2200)
                .take(sweep, SimulatedSession.COIL, 150, 150, Math.pow(10, 0.1 / 20))
                .folder("sweep", sweep)
                .measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.NONLINEAR)).isEmpty();
        assertThat(outcome.measurement().provenance().takes()).noneMatch(t -> t.leftOut());
    }

    private static double number(String pattern, Finding finding) {
        Matcher matcher = Pattern.compile(pattern).matcher(finding.message());
        assertThat(matcher.find()).as(finding.message()).isTrue();
        return Double.parseDouble(matcher.group(1));
    }
}
