package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import ohmprint.circuit.SourceModel;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Provenance.TakeOrigin;
import ohmprint.impedance.Route;
import ohmprint.impedance.Usability;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Takes that do not belong together: a wrong load, another sound, another microphone, a file that was not played. */
@Tag("statistics")
class DisagreeingTakesTest {
    private static final double FROM_HZ = 30;
    private static final double TO_HZ = 18_000;
    /** How near the proposed load must be, relative. */
    private static final double FITTING = 0.05;
    /** A curve without the bad take, 95th percentile of the error of |Z|, per cent; more where less is left to go by. */
    private static final double STILL_ACCURATE = 0.8;

    /** Bands covered, per cent: not quite 90, for the level crept by 0.02 dB in a session that no longer shows it. */
    private static final double LEAST_COVERAGE = 85;

    private static final Pattern OHMS = Pattern.compile("but ([0-9.]+) Ω would fit");
    private static final Truth COIL = Truth.of(SimulatedSession.COIL::impedance);

    @TempDir
    Path dir;

    @ParameterizedTest
    @CsvSource({
        "1, 220, 150, true",
        "2, 390, 330, true",
        "2, 330, 470, false",
        "3, 560, 680, true",
        "4, 1000, 2200, true",
        "4, 4700, 2200, false"
    })
    void aLoadEnteredWronglyIsNamedWithTheValueThatFits(int wrong, double ohm, double entered, boolean sweep)
            throws Exception {
        double[] loads = {150, 330, 680, 2200};
        double[] sound = sweep ? SimulatedSession.sweep() : SimulatedSession.pink(4, 21);
        SimulatedSession bench = new SimulatedSession(dir, wrong);
        for (int k = 0; k < loads.length; k++) {
            boolean here = k == wrong - 1;
            bench.take(sound, SimulatedSession.COIL, here ? ohm : loads[k], here ? entered : loads[k], 1);
        }
        MeasureOutcome outcome = (sweep ? bench.folder("sweep", sound) : bench.folder()).measure();
        List<Finding> mismatches = TakeFolder.findings(outcome, FindingCode.LOAD_MISMATCH);
        assertThat(mismatches).extracting(Finding::take).containsExactly("take-" + wrong + ".wav");
        Matcher proposed = OHMS.matcher(mismatches.get(0).message());
        assertThat(proposed.find()).as(mismatches.get(0).message()).isTrue();
        assertThat(Double.parseDouble(proposed.group(1)) / ohm).isBetween(1 - FITTING, 1 + FITTING);
        assertThat(outcome.measurement().provenance().takes())
                .filteredOn(TakeOrigin::leftOut)
                .extracting(t -> t.file().file())
                .containsExactly("take-" + wrong + ".wav");
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.DOUBTFUL);
        isStillAccurate(COIL, outcome);
    }

    @Test
    void loadsEnteredRightlyRaiseNoSuspicion() throws Exception {
        double[] sweep = SimulatedSession.sweep();
        MeasureOutcome outcome = new SimulatedSession(dir, 5)
                .take(sweep, 150)
                .take(sweep, 330)
                .take(sweep, 680)
                .take(sweep, 2200)
                .folder("sweep", sweep)
                .measure();
        assertThat(outcome.measurement().findings()).isEmpty();
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.USABLE);
        isStillAccurate(COIL, outcome);
    }

    @Test
    void anotherMicrophoneInOneTakeIsLeftOut() throws Exception {
        double[] sweep = SimulatedSession.sweep();
        SourceModel other = hz -> SimulatedSession.COIL.impedance(1.5 * hz).multiply(2);
        MeasureOutcome outcome = new SimulatedSession(dir, 6)
                .take(sweep, 150)
                .take(sweep, 330)
                .take(sweep, other, 680, 680, 1)
                .take(sweep, 2200)
                .folder("sweep", sweep)
                .measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.LOAD_MISMATCH))
                .extracting(Finding::take)
                .containsExactly("take-3.wav");
        assertThat(outcome.measurement().provenance().takes().get(2).leftOut()).isTrue();
        isStillAccurate(COIL, outcome);
    }

    /**
     * Of the last one, the level between the two takes that are left is off by 2.1 standard uncertainties: 1.1 Ω in all bands, whose
     * limits are 1.05 Ω and what the noise adds. With the noise overstated by half 99 of 111 bands were covered, now 94 are.
     */
    @ParameterizedTest
    @CsvSource({
        "coil-common-noise, take-1.wav, 1.5, 85",
        "coil-common-noise, take-2.wav, 0.8, 85",
        "ribbon-repaired, take-3.wav, 0.8, 80"
    })
    void anotherSoundInOneTakeIsLeftOut(String fixture, String take, double p95, double covered) throws Exception {
        TakeFolder session = TakeFolder.copyOf(fixture, dir);
        Files.copy(
                TakeFolder.FIXTURES.resolve("coil-different-noise-four/take-3.wav"),
                session.file(take),
                StandardCopyOption.REPLACE_EXISTING);
        MeasureOutcome outcome = session.measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.NOT_COHERENT))
                .extracting(Finding::take)
                .containsExactly(take);
        assertThat(outcome.measurement().provenance().takes())
                .filteredOn(TakeOrigin::leftOut)
                .extracting(t -> t.file().file())
                .containsExactly(take);
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.DOUBTFUL);
        isStillAccurate(Truth.of(fixture), outcome, p95, covered);
    }

    @ParameterizedTest
    @CsvSource({"take-1.wav, take-2.wav", "take-1.wav, take-3.wav", "take-2.wav, take-4.wav", "take-3.wav, take-4.wav"})
    void twoTakesOfDifferentNoiseGiveBoundsThatHoldTheTruth(String one, String other) throws Exception {
        MeasureOutcome outcome = TakeFolder.copyOf("coil-different-noise-four", dir)
                .without(one, other)
                .measure();
        assertThat(outcome.measurement().route()).isEqualTo(Route.POWER);
        Truth truth = Truth.of("coil-different-noise-four");
        List<BandValue> bands = outcome.measurement().curve().values();
        assertThat(bands).noneMatch(BandValue::isMeasured);
        assertThat(bands).filteredOn(v -> v.status() == BandStatus.INTERVAL).hasSizeGreaterThan(bands.size() / 2);
        assertThat(bands)
                .filteredOn(v -> v.status() == BandStatus.INTERVAL)
                .allSatisfy(v -> assertThat(truth.at(v.frequencyHz()).abs())
                        .isBetween(v.magnitudeLowOhm(), v.magnitudeHighOhm()));
    }

    /** Bounds that are never left would be no statement: some are narrower than a factor of three. */
    @Test
    void boundsOfTwoTakesSaySomething() throws Exception {
        MeasureOutcome outcome = TakeFolder.copyOf("coil-different-noise-four", dir)
                .without("take-2.wav", "take-3.wav")
                .measure();
        assertThat(outcome.measurement().curve().values())
                .anyMatch(v -> v.magnitudeHighOhm() < 3 * v.magnitudeLowOhm());
    }

    @ParameterizedTest
    @ValueSource(strings = {"noise", "reversed", "shorter"})
    void aStimulusFileThatWasNotPlayedIsSetAside(String what) throws Exception {
        TakeFolder session = TakeFolder.copyOf("coil-two-loads", dir);
        int rate = session.rate("stimulus.wav");
        double[] played = session.read("stimulus.wav")[0];
        double[] other = switch (what) {
            case "noise" -> Noise.pink(played.length, 0.1, rate, 8);
            case "shorter" -> ExponentialSweep.ofBand(20, 20_000, 1, -6, rate).samples();
            default -> reversed(played);
        };
        MeasureOutcome outcome = session.write("stimulus.wav", rate, other).measure();
        assertThat(outcome.measurement().route()).isEqualTo(Route.COMMON);
        assertThat(TakeFolder.findings(outcome, FindingCode.NOT_COHERENT)).hasSize(1);
        assertThat(TakeFolder.findings(outcome, FindingCode.NOT_COHERENT).get(0).message())
                .contains("stimulus.wav");
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.DOUBTFUL);
        isStillAccurate(Truth.of("coil-two-loads"), outcome);
    }

    private static void isStillAccurate(Truth truth, MeasureOutcome outcome) {
        isStillAccurate(truth, outcome, STILL_ACCURATE, LEAST_COVERAGE);
    }

    private static void isStillAccurate(Truth truth, MeasureOutcome outcome, double p95, double covered) {
        Truth.Score score = truth.score(outcome.measurement().curve(), FROM_HZ, TO_HZ);
        assertThat(score.measuredPercent()).as("bands with a value, %%").isGreaterThanOrEqualTo(90);
        assertThat(score.magnitudePercent(95)).as("95th percentile, %%").isLessThanOrEqualTo(p95);
        assertThat(score.coveragePercent()).as("bands covered, %%").isGreaterThanOrEqualTo(covered);
    }

    private static double[] reversed(double[] x) {
        double[] out = new double[x.length];
        Arrays.setAll(out, i -> x[x.length - 1 - i]);
        return out;
    }
}
