package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import ohmprint.exchange.CurveCsv;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Provenance.TakeOrigin;
import ohmprint.impedance.Route;
import ohmprint.impedance.Usability;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;

/**
 * The main job, on every session in fixtures/sessions: from WAV files to curve.csv, read back and compared with the truth.
 *
 * <p>The truth is an AC analysis by ngspice; of two sessions ngspice also computed the takes, in the time domain.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@Tag("slow")
class FixtureAccuracyTest {
    /** Bands that must hold a value, per cent: rejecting what is hard would be no accuracy. */
    private static final double LEAST_MEASURED = 90;
    /** Bands whose stated 95 % interval must hold the truth, per cent. */
    private static final double LEAST_COVERAGE = 90;
    /** Median stated uncertainty over the 95th percentile of the actual error: an interval must not be wide for safety. */
    private static final double WIDEST = 3;

    /**
     * What is promised for takes 40 dB or more above the noise.
     *
     * @param session the folder
     * @param route the route that the evidence asks for
     * @param fromHz compared from here to 18 kHz
     * @param median error of |Z|, per cent
     * @param p95 its 95th percentile, per cent
     * @param phase 95th percentile of the phase error, degrees; promised for the stimulus only, elsewhere in proportion to
     *     the magnitude; NaN where there is no phase
     */
    record Limit(String session, Route route, double fromHz, double median, double p95, double phase) {
        @Override
        public String toString() {
            return session;
        }
    }

    static final List<Limit> LIMITS = List.of(
            new Limit("coil-two-loads", Route.STIMULUS, 30, 0.1, 0.8, 0.6),
            new Limit("capacitor-coupled", Route.STIMULUS, 30, 0.1, 0.8, 0.6),
            new Limit("ribbon-shorted-turns", Route.STIMULUS, 30, 0.1, 0.8, 0.6),
            new Limit("ribbon-repaired", Route.STIMULUS, 30, 0.1, 0.8, 0.6),
            new Limit("ribbon-reference", Route.REFERENCE, 50, 0.15, 0.8, 0.6),
            new Limit("coil-common-noise", Route.COMMON, 30, 0.2, 1, 0.6),
            new Limit("different-noise-reference", Route.REFERENCE, 30, 0.3, 2, 1.2),
            new Limit("coil-different-noise-four", Route.POWER, 30, 2.5, 10, Double.NaN));

    /** How near the reported drift must come, dB. */
    private static final double DRIFT_DB = 0.01;

    private static final double TO_HZ = 18_000;

    private final Map<String, MeasureOutcome> outcomes = new HashMap<>();
    private final Map<String, Truth.Score> scores = new HashMap<>();

    @BeforeAll
    void measureAll(@TempDir Path parent) throws Exception {
        for (Limit limit : LIMITS) {
            Path out = parent.resolve(limit.session());
            MeasureRequest all = MeasureRequest.of(TakeFolder.FIXTURES.resolve(limit.session()));
            outcomes.put(
                    limit.session(),
                    TakeFolder.measure(
                            new MeasureRequest(all.session(), out, null, null, all.fromHz(), all.toHz(), false)));
            Path csv = out.resolve("curve.csv");
            scores.put(
                    limit.session(),
                    Truth.of(limit.session())
                            .score(CurveCsv.read(Files.readString(csv), csv.toString(), false), limit.fromHz(), TO_HZ));
        }
    }

    @ParameterizedTest
    @FieldSource("LIMITS")
    void theRouteIsTheOneThatTheTakesAllow(Limit limit) {
        Measurement measurement = outcomes.get(limit.session()).measurement();
        assertThat(measurement.route()).isEqualTo(limit.route());
        assertThat(measurement.usability()).isEqualTo(Usability.USABLE);
    }

    @ParameterizedTest
    @FieldSource("LIMITS")
    void magnitudeIsAsCloseAsPromised(Limit limit) {
        Truth.Score score = scores.get(limit.session());
        assertThat(score.measuredPercent()).as("bands with a value, %%").isGreaterThanOrEqualTo(LEAST_MEASURED);
        assertThat(score.magnitudePercent(50)).as("median error, %%").isLessThanOrEqualTo(limit.median());
        assertThat(score.magnitudePercent(95)).as("95th percentile, %%").isLessThanOrEqualTo(limit.p95());
    }

    @ParameterizedTest
    @FieldSource("LIMITS")
    void phaseIsAsCloseAsPromised(Limit limit) {
        Truth.Score score = scores.get(limit.session());
        if (limit.route() == Route.POWER) {
            assertThat(score.measured()).allMatch(v -> Double.isNaN(v.phaseRad()), "powers tell no sign of the phase");
        } else {
            assertThat(score.phaseDegrees(95)).as("95th percentile, degrees").isLessThanOrEqualTo(limit.phase());
            assertThat(score.phaseCoveragePercent()).as("phases covered, %%").isGreaterThanOrEqualTo(LEAST_COVERAGE);
        }
    }

    @ParameterizedTest
    @FieldSource("LIMITS")
    void statedUncertaintyHoldsTheTruthAndIsNotWide(Limit limit) {
        Truth.Score score = scores.get(limit.session());
        assertThat(score.coveragePercent()).as("bands covered, %%").isGreaterThanOrEqualTo(LEAST_COVERAGE);
        assertThat(score.statedPercent())
                .as("median stated uncertainty, %%")
                .isLessThanOrEqualTo(WIDEST * score.magnitudePercent(95));
    }

    /** The levels of the source are those in ABOUT.md of the session. */
    @Test
    void driftOfTheSourceIsReportedInDecibels() {
        MeasureOutcome outcome = outcomes.get("ribbon-reference");
        assertThat(outcome.measurement().provenance().takes())
                .extracting(TakeOrigin::driftDb)
                .usingElementComparator((a, b) -> Math.abs(a - b) <= DRIFT_DB ? 0 : Double.compare(a, b))
                .containsExactly(0.0, -0.20, -0.07);
        assertThat(TakeFolder.findings(outcome, FindingCode.LEVEL_DRIFT))
                .extracting(Finding::take)
                .containsExactly("take-2.wav", "take-3.wav");
        assertThat(TakeFolder.findings(outcome, FindingCode.LEVEL_DRIFT).get(0).message())
                .contains("-0.20 dB");
    }

    @Test
    void everySessionIsInTheTable() throws IOException {
        try (Stream<Path> folders = Files.list(TakeFolder.FIXTURES)) {
            assertThat(folders.map(p -> p.getFileName().toString()))
                    .containsExactlyInAnyOrderElementsOf(
                            LIMITS.stream().map(Limit::session).toList());
        }
    }
}
