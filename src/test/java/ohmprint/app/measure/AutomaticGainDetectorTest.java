package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.function.Consumer;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Usability;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** An automatic level control in the recorder is named with its take; steady gains in rooms are not accused. */
@Tag("statistics")
class AutomaticGainDetectorTest {
    /** Reaches well into the takes of the fixtures: the loudest is turned down by some 8 dB. */
    private static final AutomaticLevel CONTROL = new AutomaticLevel(-20, 0.005, 1, 4);

    @TempDir
    Path dir;

    @ParameterizedTest
    @CsvSource({"coil-two-loads, 2", "ribbon-reference, 3", "coil-common-noise, 3", "different-noise-reference, 3"})
    void theTakesThatTheControlTurnedDownAreNamed(String fixture, int takes) throws Exception {
        MeasureOutcome outcome = recordedWithControl(fixture, takes).measure();
        List<Finding> findings = TakeFolder.findings(outcome, FindingCode.GAIN_RIDING);
        // The take with the highest load is the loudest, the one that is turned down most.
        assertThat(findings).extracting(Finding::take).contains("take-" + takes + ".wav");
        assertThat(findings)
                .allSatisfy(f -> assertThat(f.message())
                        .containsPattern("[0-9.]+ dB")
                        .contains("switch the automatic level off"));
        assertThat(outcome.measurement().usability()).isNotEqualTo(Usability.USABLE);
    }

    private TakeFolder recordedWithControl(String fixture, int takes) throws Exception {
        TakeFolder session = TakeFolder.copyOf(fixture, dir);
        for (int k = 1; k <= takes; k++) {
            String take = "take-" + k + ".wav";
            session.edit(take, CONTROL.at(session.rate(take)));
        }
        return session;
    }

    @ParameterizedTest
    @ValueSource(strings = {"coil-two-loads", "ribbon-reference", "coil-common-noise", "different-noise-reference"})
    void takesOfASteadyGainAreNotAccused(String fixture) throws Exception {
        MeasureOutcome outcome = TakeFolder.copyOf(fixture, dir).measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.GAIN_RIDING)).isEmpty();
    }

    /** A handling noise just before the sound is taken for its start; what is silent then tells nothing of a gain. */
    @Test
    void aNoiseBeforeTheSoundIsNotAccused() throws Exception {
        TakeFolder session = TakeFolder.copyOf("different-noise-reference", dir);
        int rate = session.rate("take-1.wav");
        Consumer<double[]> handled = x -> {
            double loud = 0.3 * Arrays.stream(x).map(Math::abs).max().orElse(0);
            int onset = 0;
            while (Math.abs(x[onset]) < loud) {
                onset++;
            }
            for (int i = onset - rate / 5; i < onset - rate / 50; i++) {
                x[i] += 0.1 * x[i + rate];
            }
        };
        MeasureOutcome outcome = session.edit("take-1.wav", handled).measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.GAIN_RIDING)).isEmpty();
    }

    @Test
    void driftBetweenTakesIsNotAccused() throws Exception {
        double[] sweep = SimulatedSession.sweep();
        MeasureOutcome outcome = new SimulatedSession(dir, 3)
                .take(sweep, 150)
                .take(sweep, SimulatedSession.COIL, 2200, 2200, Math.pow(10, 0.15 / 20))
                .take(sweep, SimulatedSession.COIL, 150, 150, Math.pow(10, -0.15 / 20))
                .folder("sweep", sweep)
                .measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.GAIN_RIDING)).isEmpty();
    }

    /** Near the threshold of 1 dB from both sides: all from 0.6 s on is that much lower. */
    @ParameterizedTest
    @CsvSource({"0.5, false", "1.5, true"})
    void aFallOfTheBackgroundCountsFromOneDecibelOn(double fallDb, boolean named) throws Exception {
        TakeFolder session = TakeFolder.copyOf("coil-two-loads", dir);
        int from = (int) (0.6 * session.rate("take-1.wav"));
        Consumer<double[]> fall = x -> {
            for (int i = from; i < x.length; i++) {
                x[i] *= Math.pow(10, -fallDb / 20);
            }
        };
        MeasureOutcome outcome = session.edit("take-1.wav", fall).measure();
        List<Finding> findings = TakeFolder.findings(outcome, FindingCode.GAIN_RIDING);
        assertThat(findings).hasSize(named ? 1 : 0).allMatch(f -> "take-1.wav".equals(f.take()));
    }
}
