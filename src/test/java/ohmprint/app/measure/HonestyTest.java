package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.util.Arrays;
import ohmprint.app.BadInputException;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Usability;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Cases in which a statement is easily made that the takes do not carry. */
@Tag("statistics")
class HonestyTest {
    private static final Truth COIL = Truth.of(SimulatedSession.COIL::impedance);
    private static final double LEAST_COVERAGE = 90;

    @TempDir
    Path dir;

    /** One take of several is louder by a known factor; whatever is done about it, the band holds the truth. */
    @ParameterizedTest
    @CsvSource({"1.01, 3", "1.02, 3", "1.1, 3", "1.01, 4", "1.02, 4", "1.1, 4"})
    void aTakeOfAnotherLevelDoesNotFalsifyTheBand(double level, int loads) throws Exception {
        double[] sweep = SimulatedSession.sweep();
        SimulatedSession bench = new SimulatedSession(dir, 1)
                .take(sweep, 150)
                .take(sweep, SimulatedSession.COIL, 330, 330, level)
                .take(sweep, 2200);
        if (loads == 4) {
            bench.take(sweep, 680);
        }
        Truth.Score score =
                COIL.score(bench.folder("sweep", sweep).measure().measurement().curve(), 30, 18_000);
        assertThat(score.coveragePercent()).as("bands covered, %%").isGreaterThanOrEqualTo(LEAST_COVERAGE);
    }

    @ParameterizedTest
    @CsvSource({
        "coil-two-loads, 3",
        "coil-common-noise, 3",
        "ribbon-reference, 3",
        "ribbon-repaired, 3",
        "capacitor-coupled, 3"
    })
    void wideBandsAroundAResonanceHoldTheTruthAtTheirMidband(String fixture, int fraction) throws Exception {
        MeasureOutcome outcome = TakeFolder.measure(new MeasureRequest(
                TakeFolder.FIXTURES.resolve(fixture), dir.resolve("out"), fraction, null, 20, 20_000, false));
        covers(Truth.of(fixture).score(outcome.measurement().curve(), 30, 18_000));
    }

    @ParameterizedTest
    @CsvSource({"1", "3", "6"})
    void wideBandsOfACoilHoldTheTruthAtTheirMidband(int fraction) throws Exception {
        double[] sweep = SimulatedSession.sweep();
        TakeFolder session =
                new SimulatedSession(dir, 1).take(sweep, 150).take(sweep, 2200).folder("sweep", sweep);
        MeasureOutcome outcome =
                TakeFolder.measure(new MeasureRequest(session.folder, null, fraction, null, 20, 20_000, false));
        covers(COIL.score(outcome.measurement().curve(), 30, 18_000));
    }

    /** The second take holds the noise of an input only: nothing was connected, or the wrong channel is named. */
    @Test
    void anUnpluggedTakeGivesNoBoundsThatTheTruthIsOutsideOf() throws Exception {
        MeasureOutcome outcome = TakeFolder.copyOf("coil-two-loads", dir)
                .edit("take-2.wav", x -> System.arraycopy(Noise.whiteGaussian(x.length, 1e-4, 1), 0, x, 0, x.length))
                .measure();
        Truth truth = Truth.of("coil-two-loads");
        assertThat(outcome.measurement().curve().values())
                .filteredOn(v -> v.status() == BandStatus.INTERVAL)
                .allSatisfy(v -> assertThat(truth.at(v.frequencyHz()).abs())
                        .isBetween(v.magnitudeLowOhm(), v.magnitudeHighOhm()));
        assertThat(outcome.measurement().usability()).isNotEqualTo(Usability.USABLE);
    }

    /** A sweep of another length is found everywhere a little; the takes themselves are coherent. */
    @Test
    void aSweepThatWasNotPlayedIsSetAside() throws Exception {
        MeasureOutcome outcome = TakeFolder.copyOf("coil-two-loads", dir)
                .write(
                        "stimulus.wav",
                        48_000,
                        ExponentialSweep.ofBand(20, 20_000, 1, -6, 48_000).samples())
                .measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.NOT_COHERENT)).hasSize(1);
        Truth.Score score =
                Truth.of("coil-two-loads").score(outcome.measurement().curve(), 30, 18_000);
        assertThat(score.measuredPercent()).isGreaterThanOrEqualTo(90);
        assertThat(score.magnitudePercent(95)).isLessThanOrEqualTo(0.8);
    }

    /** The other two takes hear their loudspeaker well. */
    @Test
    void aSilentTakeDoesNotAccuseTheOthers() throws Exception {
        MeasureOutcome outcome = TakeFolder.copyOf("ribbon-reference", dir)
                .edit("take-2.wav", x -> Arrays.fill(x, 0))
                .measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.NOT_COHERENT))
                .extracting(Finding::take)
                .doesNotContain("take-1.wav", "take-3.wav");
    }

    @Test
    void takesOfMillisecondsAreNotMeasured() throws Exception {
        TakeFolder session = TakeFolder.copyOf("coil-common-noise", dir);
        for (int k = 1; k <= 3; k++) {
            session.cut("take-" + k + ".wav", 50_000, 51_000);
        }
        assertThatThrownBy(session::measure)
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("take-1.wav is 0.023 s long");
    }

    @ParameterizedTest
    @CsvSource({"25000, 40000", "1, 10", "21000, 30000"})
    void aRangeThatTheTakesCannotHoldIsBadInput(double from, double to) {
        assertThatThrownBy(() -> TakeFolder.measure(new MeasureRequest(
                        TakeFolder.FIXTURES.resolve("ribbon-repaired"),
                        dir.resolve("out"),
                        null,
                        null,
                        from,
                        to,
                        false)))
                .isInstanceOf(BadInputException.class);
    }

    @ParameterizedTest
    @CsvSource({
        "coil-two-loads, 2, 10000",
        "coil-two-loads, 2, 1",
        "coil-common-noise, 3, 1",
        "coil-different-noise-four, 4, 1",
        "ribbon-reference, 3, 1"
    })
    void takesTooShortAreNoFaultOfTheProgram(String fixture, int takes, int frames) throws Exception {
        TakeFolder session = TakeFolder.copyOf(fixture, dir);
        for (int k = 1; k <= takes; k++) {
            session.cut("take-" + k + ".wav", 30_000, 30_000 + frames);
        }
        try {
            assertThat(session.measure().measurement().usability()).isEqualTo(Usability.UNUSABLE);
        } catch (BadInputException e) {
            assertThat(e.getMessage()).contains("take").doesNotContain("E-");
        }
    }

    /** Hits of N bands within 0.95 − 3·√(0.95·0.05/N), three standard deviations of a true 95 % statement. */
    private static void covers(Truth.Score score) {
        double least = 95 - 300 * Math.sqrt(0.95 * 0.05 / score.bands().size());
        assertThat(score.coveragePercent()).as("magnitudes covered, %%").isGreaterThanOrEqualTo(least);
        assertThat(score.phaseCoveragePercent()).as("phases covered, %%").isGreaterThanOrEqualTo(least);
    }
}
