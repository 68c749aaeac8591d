package ohmprint.web;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.library.InventedUnits;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

@Tag("slow")
class CurveRoutesTest {
    private static final double RELATIVE = 1e-9;

    @TempDir
    Path folder;

    private Workshop bench;

    @BeforeEach
    void open() throws Exception {
        bench = Workshop.in(folder);
    }

    @AfterEach
    void close() {
        bench.close();
    }

    private String unit(int n, int model) throws Exception {
        return Workshop.measured(folder, "unit-" + n, InventedUnits.unit(n, model, 3, 0.01));
    }

    private static JsonNode band(String session, Path folder, int i) throws Exception {
        return new ObjectMapper()
                .readTree(folder.resolve(session + "/result/curve.json").toFile())
                .get("bands")
                .get(i);
    }

    @Test
    void theDifferenceIsThatOfTheTwoFiles() throws Exception {
        JsonNode told = bench.get("/api/compare?curves=" + unit(1, 3) + "," + unit(2, 4));
        JsonNode d = told.at("/differences/0");
        int i = 10;
        // The definition: the second over the first, less one, in percent.
        double expected = 100
                * (band("unit-2", folder, i).get("magnitude_ohm").asDouble()
                                / band("unit-1", folder, i).get("magnitude_ohm").asDouble()
                        - 1);

        assertThat(told.get("curves")).hasSize(2);
        assertThat(d.at("/bands/" + i + "/difference_percent").asDouble())
                .isCloseTo(expected, within(RELATIVE * Math.abs(expected)));
        assertThat(d.at("/bands/" + i + "/difference_low_percent").asDouble()).isLessThan(expected);
        assertThat(d.at("/bands/" + i + "/difference_high_percent").asDouble()).isGreaterThan(expected);
        assertThat(d.at("/bands/" + i + "/differs").asBoolean()).isTrue();
        assertThat(d.get("bands_that_differ").asInt()).isPositive();
        assertThat(bench.refused(400, "GET", "/api/compare?curves=session:unit-1", null))
                .contains("1 curves", "two to 6");
        assertThat(bench.refused(404, "GET", "/api/compare?curves=session:unit-1,session:none", null))
                .contains("none");
    }

    @Test
    void theSpreadBecomesASpecificationThatItsOwnUnitsMeet() throws Exception {
        for (int n = 0; n < 3; n++) {
            bench.post("/api/library", "{'curve':'" + unit(n, 2) + "','operator':'Ada Quill'}");
        }
        JsonNode spread = bench.get("/api/spread?model=Wren");
        JsonNode check = bench.post(
                "/api/check",
                new ObjectMapper()
                        .createObjectNode()
                        .put("curve", "session:unit-1")
                        .put("yaml", spread.get("specification_yaml").asText())
                        .toString());

        assertThat(spread.at("/spread/units")).hasSize(3);
        assertThat(spread.at("/spread/bands/5/low_ohm").asDouble())
                .isLessThanOrEqualTo(spread.at("/spread/bands/5/median_ohm").asDouble());
        assertThat(spread.at("/spread/bands/5/median_ohm").asDouble())
                .isLessThanOrEqualTo(spread.at("/spread/bands/5/high_ohm").asDouble());
        assertThat(check.at("/check/verdict").asText()).isNotEqualTo("outside");
        assertThat(bench.refused(400, "GET", "/api/spread?model=Auk", null)).contains("Auk");
    }

    @Test
    void theLikestIsOfTheSameModel() throws Exception {
        bench.post("/api/library", "{'curve':'" + unit(1, 2) + "'}");
        bench.post("/api/library", "{'curve':'" + unit(2, 5) + "'}");
        String asked = unit(3, 5);
        String id = bench.post("/api/library", "{'curve':'" + asked + "'}")
                .get("id")
                .asText();
        JsonNode told = bench.get("/api/like?curve=" + asked);

        assertThat(told.at("/likes/0/model").asText()).isEqualTo("Siskin");
        assertThat(told.get("likes").findValuesAsText("id"))
                .as("a session is not compared with its own measurement in the library")
                .hasSize(2)
                .doesNotContain(id);
        assertThat(told.get("caution").asText()).contains("a hint, not an identification");
    }

    // The circuit of the sample, at 1 kHz: 200 Ω in series with 1 mH, and 100 Ω beside 10.61 µF and 106.1 mH.
    @Test
    void aRatedImpedanceIsCheckedAndItsLimitsCanBeDrawn() throws Exception {
        String ref = Workshop.measured(folder, "coil", SampleMeasurements.movingCoil());
        JsonNode met = bench.post("/api/check", "{'curve':'" + ref + "','yaml':'" + rated(200) + "'}");
        JsonNode missed = bench.post("/api/check", "{'curve':'" + ref + "','yaml':'" + rated(600) + "'}");
        JsonNode checks = missed.at("/check/requirements/0/checks");

        assertThat(met.at("/check/verdict").asText()).isEqualTo("within");
        assertThat(missed.at("/check/verdict").asText()).isEqualTo("outside");
        assertThat(missed.at("/check/possible_causes")).isNotEmpty();
        assertThat(missed.at("/check/possible_causes/0/caution").asText()).isNotEmpty();
        assertThat(checks.at("/0/frequency_hz").asDouble()).isCloseTo(1000, within(1.0));
        assertThat(checks.at("/0/min_ohm").asDouble()).isCloseTo(480, within(1e-6));
        assertThat(checks.at("/0/max_ohm").asDouble()).isCloseTo(720, within(1e-6));
        assertThat(checks.at("/0/verdict").asText()).isEqualTo("outside");
        assertThat(bench.refused(400, "POST", "/api/check", "{'curve':'" + ref + "'}"))
                .contains("no limits are given");
        assertThat(bench.refused(400, "POST", "/api/check", "{'curve':'" + ref + "','yaml':'version: 2'}"))
                .contains("version");
    }

    private static String rated(double ohm) {
        return "version: 1\\nrated_impedance: {ohm: " + ohm + ", tolerance_percent: 20}\\n";
    }

    @Test
    void aCurveIsPlannedForAsTheSameImpedanceInOhms() throws Exception {
        String ref = Workshop.measured(folder, "coil", SampleMeasurements.movingCoil());
        JsonNode ofCurve =
                bench.post("/api/plan", "{'expected':{'curve':'" + ref + "'},'input_ohm':3000,'stock':[100,220,1000]}");
        JsonNode wanted = bench.post(
                "/api/plan", "{'expected':{'ohm':300},'input_ohm':3000,'stock':[100,220,1000],'wanted_percent':3}");

        assertThat(ofCurve.get("expected").asText()).isEqualTo("Bench dynamic 2, as in session:coil");
        assertThat(ofCurve.at("/sets/0/loads_ohm").toString()).contains("open");
        assertThat(wanted.at("/sets/0/predicted_worst_u95_percent").asDouble())
                .isLessThanOrEqualTo(
                        wanted.at("/sets/1/predicted_worst_u95_percent").asDouble());
        assertThat(wanted.at("/sets/0/seconds_for_wanted").asDouble()).isPositive();
        assertThat(bench.refused(400, "POST", "/api/plan", "{'expected':{'ohm':300}}"))
                .contains("recording input is missing");
        assertThat(bench.refused(
                        400, "POST", "/api/plan", "{'expected':{'ohm':300,'transducer':'ribbon'},'input_ohm':1}"))
                .contains("2 ways");
        assertThat(bench.refused(400, "POST", "/api/plan", "{'expected':{'ohm':300},'input_ohm':3000,'snr_db':-3}"))
                .contains("signal over noise is -3.0 dB");
    }

    @Test
    void aReportNamesTheMicrophoneAndSaysWhatIsMissing() throws Exception {
        bench.post("/api/library", "{'curve':'" + unit(5, 1) + "'}");
        String id = bench.get("/api/library").at("/entries/0/id").asText();
        PageClient.Answer pdf = bench.client().get("/api/report?curve=library:" + id + "&paper=letter");
        PageClient.Answer html =
                bench.client().get("/api/report?curve=session:unit-5&form=html&compared=library:" + id);

        assertThat(new String(pdf.response().body(), 0, 5, ISO_8859_1)).isEqualTo("%PDF-");
        assertThat(pdf.header("Content-Disposition")).isEqualTo("attachment; filename=\"heron-unit-5.pdf\"");
        assertThat(html.text()).contains("<h1", "Heron unit 5", "Before and after");
        assertThat(bench.refused(400, "GET", "/api/report?curve=session:unit-5&form=text", null))
                .contains("choose pdf or html");
        assertThat(bench.refused(400, "GET", "/api/report?curve=session:unit-5&spl_db=80", null))
                .contains("sensitivity_mv");
    }

    @Test
    void aCurveIsHandedOutInTheFormsThatOthersRead() throws Exception {
        String ref = unit(6, 6);
        String path = "/api/curves/" + ref + "/file?kind=";
        assertThat(bench.client().get(path + "csv").text()).startsWith("frequency_hz,magnitude_ohm,phase_deg");
        assertThat(bench.client().get(path + "json").response().body())
                .isEqualTo(Files.readAllBytes(folder.resolve("unit-6/result/curve.json")));
        assertThat(bench.client().get(path + "s1p").text()).contains("# ");
        assertThat(bench.client().get(path + "svg").text()).contains("<svg");
        // Source: the first eight bytes of every PNG, ISO/IEC 15948.
        assertThat(bench.client().get(path + "png").response().body())
                .startsWith(0x89, 'P', 'N', 'G', '\r', '\n', 0x1A, '\n');
        assertThat(bench.refused(400, "GET", path + "exe", null)).contains("choose csv");
    }

    @Test
    void recordingsBesideTheSessionsAreCopiedAndStay() throws Exception {
        Path fixture = Path.of("fixtures/sessions/coil-two-loads/take-1.wav");
        Files.copy(fixture, folder.resolve("desk.wav"));
        bench.post("/api/sessions", "{'name':'attic','microphone':{'label':'Attic find'}}");
        JsonNode session = bench.post("/api/sessions/attic/adopt", "{'files':['desk.wav']}");

        assertThat(session.at("/unlisted/0/file").asText()).isEqualTo("desk.wav");
        assertThat(folder.resolve("attic/desk.wav")).hasSameBinaryContentAs(fixture);
        assertThat(folder.resolve("desk.wav")).exists();
        assertThat(bench.refused(409, "POST", "/api/sessions/attic/adopt", "{'files':['desk.wav']}"))
                .contains("is in the session already");
        assertThat(bench.refused(400, "POST", "/api/sessions/attic/adopt", "{'files':['../desk.wav']}"))
                .contains("without slashes");
    }

    @Test
    void theCautionsAreThoseOfARecording() throws Exception {
        assertThat(bench.get("/api/cautions").at("/cautions/0").asText()).contains("Phantom power off");
    }
}
