package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.exchange.CurveCsv;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Route;
import ohmprint.impedance.Usability;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What may be asked of a measurement: routes, bands, range, and an input that nobody knows. */
@Tag("slow")
class RequestTest {
    private static final double LEAST_COVERAGE = 90;

    @TempDir
    Path dir;

    @ParameterizedTest
    @CsvSource({
        "coil-two-loads, STIMULUS, 0.8",
        "coil-two-loads, COMMON, 0.8",
        "ribbon-repaired, COMMON, 0.8",
        "ribbon-reference, REFERENCE, 1.5",
        "coil-common-noise, COMMON, 1",
        "coil-common-noise, POWER, 10",
        "ribbon-reference, POWER, 10"
    })
    void aRouteThatIsAskedForIsTaken(String fixture, Route route, double p95) throws Exception {
        Measurement measurement = measure(fixture, null, route, 20, 20_000).measurement();
        assertThat(measurement.route()).isEqualTo(route);
        assertThat(measurement.routeReason()).contains("asked for");
        Truth.Score score = Truth.of(fixture).score(measurement.curve(), 50, 18_000);
        assertThat(score.magnitudePercent(95)).as("95th percentile, %%").isLessThanOrEqualTo(p95);
        assertThat(score.coveragePercent()).as("bands covered, %%").isGreaterThanOrEqualTo(LEAST_COVERAGE);
    }

    @Test
    void twoLoadsByTheirPowersGiveBoundsThatHoldTheTruth() throws Exception {
        Truth truth = Truth.of("coil-two-loads");
        List<BandValue> bands = measure("coil-two-loads", null, Route.POWER, 30, 18_000)
                .measurement()
                .curve()
                .values();
        assertThat(bands)
                .allSatisfy(v -> assertThat(truth.at(v.frequencyHz()).abs())
                        .isBetween(v.magnitudeLowOhm(), v.magnitudeHighOhm()));
    }

    @ParameterizedTest
    @CsvSource({
        "coil-two-loads, REFERENCE, reference_channel",
        "coil-common-noise, REFERENCE, reference_channel",
        "coil-common-noise, STIMULUS, stimulus",
        "coil-different-noise-four, STIMULUS, stimulus",
        "coil-different-noise-four, COMMON, common"
    })
    void aRouteThatTheTakesCannotGoIsBadInput(String fixture, Route route, String named) {
        assertThatThrownBy(() -> measure(fixture, null, route, 20, 20_000))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining(named);
        assertThat(dir.resolve("out")).doesNotExist();
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 3, 6, 12, 24})
    void bandsAreThoseAskedFor(int fraction) throws Exception {
        MeasureOutcome outcome = measure("coil-two-loads", fraction, null, 100, 5000);
        FrequencyBands wanted = FrequencyBands.within(fraction, 100, 5000);
        assertThat(outcome.measurement().curve().bands()).isEqualTo(wanted);
        assertThat(CurveCsv.read(Files.readString(dir.resolve("out/curve.csv")), "curve.csv", false)
                        .bands())
                .isEqualTo(wanted);
        assertThat(outcome.measurement().curve().values()).allMatch(BandValue::isMeasured);
    }

    /** A band's value belongs to its midband, however wide the band: neighbouring grids agree where they meet. */
    @Test
    void thirdsAgreeWithTwentyFourths() throws Exception {
        var thirds = measure("coil-two-loads", 3, null, 300, 5000).measurement().curve();
        var fine = measure("coil-two-loads", 24, null, 300, 5000).measurement().curve();
        for (BandValue third : thirds.values()) {
            BandValue[] beside = fine.values().stream()
                    .sorted((a, b) -> Double.compare(away(a, third), away(b, third)))
                    .limit(2)
                    .toArray(BandValue[]::new);
            double between = Arrays.stream(beside)
                    .mapToDouble(BandValue::magnitudeOhm)
                    .average()
                    .orElseThrow();
            assertThat(Math.abs(third.magnitudeOhm() / between - 1)).isLessThan(0.01);
        }
    }

    @ParameterizedTest
    @CsvSource({"2, 20, 20000", "12, 0, 20000", "12, 5000, 50", "12, 1000, 1001", "12, 20, NaN"})
    void aGridThatCannotBeIsBadInput(int fraction, double from, double to) {
        assertThatThrownBy(() -> measure("coil-two-loads", fraction, null, from, to))
                .isInstanceOf(BadInputException.class);
        assertThat(dir.resolve("out")).doesNotExist();
    }

    @Test
    void aRangeBeyondTheSampleRateIsToldAndRejectedThere() throws Exception {
        MeasureOutcome beyond = measure("ribbon-repaired", null, null, 20, 40_000);
        assertThat(TakeFolder.findings(beyond, FindingCode.SAMPLE_RATE)).hasSize(1);
        assertThat(beyond.measurement().curve().values())
                .filteredOn(v -> v.frequencyHz() > 22_050)
                .isNotEmpty()
                .allMatch(v -> v.status() == BandStatus.REJECTED);
        assertThat(Truth.of("ribbon-repaired")
                        .score(beyond.measurement().curve(), 30, 18_000)
                        .magnitudePercent(95))
                .isLessThan(0.8);
    }

    @Test
    void theWholeOrdinaryRangeNeedsNoMoreThan44100Hertz() throws Exception {
        MeasureOutcome outcome = measure("ribbon-repaired", null, null, 20, 20_000);
        assertThat(TakeFolder.findings(outcome, FindingCode.SAMPLE_RATE)).isEmpty();
    }

    /** Without an input the values are those of the source beside it: Z/(1 + Z·Y_in), with Y_in as in ABOUT.md. */
    @Test
    void anUnknownInputIsPartOfTheResultAndTheFilesSaySo() throws Exception {
        TakeFolder session = TakeFolder.copyOf("coil-two-loads", dir)
                .manifest(
                        "resistance_ohm: 4700, resistance_tolerance_percent: 0.1, capacitance_pf: 330",
                        "resistance_ohm: unknown");
        MeasureOutcome outcome = session.measure();
        assertThat(TakeFolder.findings(outcome, FindingCode.INPUT_UNKNOWN)).hasSize(1);
        assertThat(outcome.measurement().usability()).isEqualTo(Usability.DOUBTFUL);
        assertThat(outcome.measurement().curve().parallelWithInput()).isTrue();
        String json = Files.readString(session.result().resolve("curve.json"));
        assertThat(text(json, "quantity")).isEqualTo("source impedance in parallel with the input");
        assertThat(text(json, "parallel_with_input")).isEqualTo("true");
        Truth beside = Truth.of("coil-two-loads").beside(hz -> new Complex(1 / 4700.244, 2 * Math.PI * hz * 330e-12));
        Truth.Score score = beside.score(outcome.measurement().curve(), 30, 18_000);
        assertThat(score.magnitudePercent(95)).isLessThanOrEqualTo(0.8);
        assertThat(score.phaseDegrees(95)).isLessThanOrEqualTo(0.6);
        assertThat(score.coveragePercent()).isGreaterThanOrEqualTo(LEAST_COVERAGE);
        double alone = Truth.of("coil-two-loads")
                .score(outcome.measurement().curve(), 30, 18_000)
                .magnitudePercent(50);
        assertThat(alone).as("distance from the source alone, %%").isGreaterThan(3);
    }

    private MeasureOutcome measure(String fixture, Integer bands, Route route, double from, double to)
            throws Exception {
        return TakeFolder.measure(new MeasureRequest(
                TakeFolder.FIXTURES.resolve(fixture), dir.resolve("out"), bands, route, from, to, false));
    }

    private static double away(BandValue a, BandValue b) {
        return Math.abs(Math.log(a.frequencyHz() / b.frequencyHz()));
    }

    /** Value of the first field of that name. */
    private static String text(String json, String field) throws Exception {
        try (JsonParser parser = new JsonFactory().createParser(json)) {
            while (parser.nextToken() != null) {
                if (field.equals(parser.currentName())) {
                    parser.nextToken();
                    return parser.getText();
                }
            }
        }
        throw new AssertionError("no field " + field);
    }
}
