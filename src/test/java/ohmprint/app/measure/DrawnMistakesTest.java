package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Usability;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Drawn sessions with one bench mistake or none; the truth is the drawn circuit, not the program's. */
@Tag("statistics")
class DrawnMistakesTest {
    private static final double FROM_HZ = 50;
    private static final double TO_HZ = 12_000;

    /** Beyond this no curve is a result, whatever it says of itself, per cent in the median band. */
    private static final double ABSURD_PERCENT = 30;

    private static final double[] TWO = {220, 2200};

    @TempDir
    Path dir;

    /** One part of one take is disturbed, or the path changed: the curve must stay near, and say that it is doubtful. */
    @ParameterizedTest
    @CsvSource({
        "MOVED, 3",
        "MOVED, 6",
        "WARMED_ROOM, 3",
        "WARMED_ROOM, 9",
        "CONTACT, 3",
        "CONTACT, 6",
        "LIMITER, 3",
        "LIMITER, 9"
    })
    void aDisturbedTakeDoesNotCarryTheCurveAway(DrawnBench.Mistake mistake, long seed) throws Exception {
        DrawnBench bench = new DrawnBench(mistake, new double[] {150, 680, 2200}, seed);
        Measurement m = measurement(bench.write(dir.resolve("drawn")));
        assertThat(m.usability()).isNotEqualTo(Usability.USABLE);
        Truth.Score score = Truth.of(bench.coil::impedance).score(m.curve(), FROM_HZ, TO_HZ);
        if (m.usability() == Usability.DOUBTFUL) {
            assertThat(score.magnitudePercent(50)).as("median error, %%").isLessThan(ABSURD_PERCENT);
            assertThat(score.coveragePercent()).as("bands covered, %%").isGreaterThanOrEqualTo(70);
        }
    }

    /** Hum fills a few bins: the fit does without them, and nobody is accused. */
    @ParameterizedTest
    @CsvSource({"NONE, 0", "NONE, 3", "DRIFT, 0", "HUM, 0", "HUM, 3"})
    void goodTakesStayUsable(DrawnBench.Mistake mistake, long seed) throws Exception {
        DrawnBench bench = new DrawnBench(mistake, new double[] {150, 680, 2200}, seed);
        Measurement m = measurement(bench.write(dir.resolve("drawn")));
        assertThat(m.findings()).extracting(f -> f.code()).doesNotContain(FindingCode.INCONSISTENT);
        assertThat(m.curve().consistency())
                .isNotNull()
                .satisfies(c -> assertThat(c.isContradicted()).isFalse());
        assertThat(m.usability()).isEqualTo(Usability.USABLE);
    }

    /** Two loads cannot show a wrong load, but their ratio shows a path that changed and a take that is disturbed. */
    @ParameterizedTest
    @CsvSource({
        "MOVED, 4, MOVED",
        "MOVED, 9, MOVED",
        "WARMED_ROOM, 1, MOVED",
        "WARMED_ROOM, 9, MOVED",
        "CONTACT, 2, DISTURBED",
        "CONTACT, 5, DISTURBED",
        "LIMITER, 2, DISTURBED"
    })
    void twoTakesShowWhatIsNotSmooth(DrawnBench.Mistake mistake, long seed, FindingCode code) throws Exception {
        Measurement m = measurement(new DrawnBench(mistake, TWO, seed).write(dir.resolve("drawn")));
        assertThat(m.findings()).extracting(f -> f.code()).contains(code);
        assertThat(m.usability()).isNotEqualTo(Usability.USABLE);
    }

    /** Three ratios name the take that two of them share. */
    @ParameterizedTest
    @CsvSource({
        "MOVED, 1, MOVED",
        "MOVED, 4, MOVED",
        "WARMED_ROOM, 5, MOVED",
        "CONTACT, 3, DISTURBED",
        "CONTACT, 5, DISTURBED"
    })
    void threeTakesNameTheOneThatIsNotSmooth(DrawnBench.Mistake mistake, long seed, FindingCode code) throws Exception {
        DrawnBench bench = new DrawnBench(mistake, new double[] {150, 680, 2200}, seed);
        assertThat(measurement(bench.write(dir.resolve("drawn"))).findings())
                .filteredOn(f -> f.code() == code)
                .extracting(f -> f.take())
                .containsExactly(bench.faultyTake());
    }

    @ParameterizedTest
    @CsvSource({"NONE, 1", "NONE, 3", "HUM, 1", "HUM, 5", "DRIFT, 3", "WRONG_LOAD, 5", "GAIN, 4"})
    void twoSmoothTakesAreNotAccused(DrawnBench.Mistake mistake, long seed) throws Exception {
        Measurement m = measurement(new DrawnBench(mistake, TWO, seed).write(dir.resolve("drawn")));
        assertThat(m.findings()).extracting(f -> f.code()).doesNotContain(FindingCode.MOVED, FindingCode.DISTURBED);
    }

    private static Measurement measurement(TakeFolder session) throws Exception {
        return MeasureSession.measurement(MeasureRequest.of(session.folder));
    }
}
