package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.ByteArrayInputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import javax.sound.sampled.AudioInputStream;
import javax.sound.sampled.AudioSystem;
import ohmprint.app.StoredCurve;
import ohmprint.curve.BandValue;
import ohmprint.session.SessionReader;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Each address of sessions and curves with a real session, against what the use cases say. */
class SessionAnswersTest {
    private static final String RIBBON = "/api/sessions/ribbon";

    @TempDir
    Path dir;

    private OpenPage page;
    private PageClient client;

    @BeforeEach
    void open() throws Exception {
        OpenPage.copied(OpenPage.RIBBON, dir.resolve("ribbon"));
        page = OpenPage.of(dir);
        client = page.client();
    }

    @AfterEach
    void close() {
        page.close();
    }

    private static void assertColumn(
            JsonNode column, StoredCurve curve, java.util.function.ToDoubleFunction<BandValue> f) {
        var values = curve.measurement().curve().values();
        assertThat(column).hasSize(values.size());
        for (int b = 0; b < values.size(); b++) {
            double expected = f.applyAsDouble(values.get(b));
            assertThat(column.get(b).isNull()).isEqualTo(Double.isNaN(expected));
            if (!Double.isNaN(expected)) {
                assertThat(column.get(b).asDouble()).isEqualTo(expected);
            }
        }
    }

    @Test
    void theWorkspaceListsSessionsAndLooseRecordings() throws Exception {
        Files.copy(OpenPage.RIBBON.resolve("take-1.wav"), dir.resolve("loose.wav"));
        Files.writeString(dir.resolve("notes.txt"), "none of these");

        JsonNode seen = client.json("/api/workspace");

        assertThat(seen.path("workspace").asText()).isEqualTo(dir.toRealPath().toString());
        assertThat(seen.path("sessions")).hasSize(1);
        JsonNode ribbon = seen.path("sessions").get(0);
        assertThat(ribbon.path("name").asText()).isEqualTo("ribbon");
        assertThat(ribbon.path("label").asText()).isEqualTo("Bench ribbon 9");
        assertThat(ribbon.path("loads").toString()).isEqualTo("[\"220 Ω\",\"2200 Ω\",\"220 Ω\"]");
        assertThat(ribbon.path("has_curve").asBoolean()).isFalse();
        assertThat(ribbon.path("verdict").isNull()).isTrue();
        assertThat(seen.path("loose")).hasSize(1);
        assertThat(seen.path("loose").get(0).path("sample_rate").asDouble()).isEqualTo(44_100);
        assertThat(seen.path("has_library").asBoolean()).isFalse();
    }

    @Test
    void measuringAnswersWithTheCurveThatLiesInTheFolder() throws Exception {
        JsonNode before = client.json(RIBBON);
        assertThat(client.get(RIBBON + "/curve").status()).isEqualTo(404);

        JsonNode curve = client.good("POST", RIBBON + "/measure", "{\"bands\": 6}");

        StoredCurve stored = StoredCurve.of(dir.resolve("ribbon/result").toString());
        JsonNode bands = curve.path("bands");
        assertColumn(bands.path("frequency_hz"), stored, BandValue::frequencyHz);
        assertColumn(bands.path("magnitude_ohm"), stored, BandValue::magnitudeOhm);
        assertColumn(bands.path("magnitude_u95_ohm"), stored, BandValue::magnitudeU95Ohm);
        assertColumn(bands.path("phase_deg"), stored, BandValue::phaseDeg);
        assertColumn(bands.path("phase_u95_deg"), stored, BandValue::phaseU95Deg);
        assertColumn(bands.path("resistance_ohm"), stored, BandValue::resistanceOhm);
        assertColumn(bands.path("reactance_ohm"), stored, BandValue::reactanceOhm);
        assertColumn(bands.path("low_ohm"), stored, BandValue::magnitudeLowOhm);
        assertThat(curve.path("bands_per_octave").asInt()).isEqualTo(6);
        assertThat(curve.path("verdict").asText())
                .isEqualTo(stored.measurement().usability().word());
        assertThat(curve.path("budget").path("components")).hasSize(5);
        assertThat(curve.path("budget").path("ohm").get(1).get(3).asDouble())
                .isEqualTo(stored.measurement().curve().values().get(3).budget().drift());
        assertThat(curve.path("advice")).isNotEmpty();
        assertThat(client.json(RIBBON + "/curve")).isEqualTo(curve);
        assertThat(client.json("/api/curves/session%3Aribbon")).isEqualTo(curve);
        JsonNode after = client.json(RIBBON);
        assertThat(after.path("has_curve").asBoolean()).isTrue();
        assertThat(after.path("curve_outdated").asBoolean()).isFalse();
        assertThat(after.path("revision").asLong())
                .isGreaterThan(before.path("revision").asLong());
    }

    @Test
    void takesThatDoNotSupportACurveAreToldWithTheirFindings() throws Exception {
        String body = "{\"load_ohm\": 47000}";
        client.good("PUT", RIBBON + "/takes/take-1.wav", body);
        client.good("PUT", RIBBON + "/takes/take-3.wav", body);

        PageClient.Answer answer = client.send("POST", RIBBON + "/measure", "{}");

        assertThat(answer.status()).isEqualTo(422);
        assertThat(answer.json().path("verdict").asText()).isEqualTo("unusable");
        assertThat(answer.json().path("findings")).isNotEmpty();
        assertThat(answer.error()).contains("does not support a curve");
        assertThat(dir.resolve("ribbon/result")).doesNotExist();
    }

    @Test
    void aChangeIsWrittenIntoTheManifestAndMakesTheCurveOld() throws Exception {
        client.good("POST", RIBBON + "/measure", "{}");

        client.good("PUT", RIBBON + "/microphone", "{\"maker\": \"Hollow Oak\", \"rated_impedance_ohm\": 270}");
        client.good("PUT", RIBBON + "/input", "{\"resistance_ohm\": \"unknown\", \"capacitance_pf\": 220}");
        client.good("PUT", RIBBON + "/takes/take-2.wav", "{\"load_ohm\": \"open\", \"note\": \"lid off\"}");
        client.good("PUT", RIBBON + "/stimulus", "{\"kind\": \"noise\"}");
        JsonNode seen = client.json(RIBBON);

        assertThat(seen.path("curve_outdated").asBoolean()).isTrue();
        assertThat(seen.path("microphone").path("label").asText()).isEqualTo("Bench ribbon 9");
        assertThat(seen.path("input").path("resistance_ohm").asText()).isEqualTo("unknown");
        assertThat(seen.path("takes").get(1).path("load_ohm").asText()).isEqualTo("open");
        assertThat(seen.path("unlisted").get(0).path("file").asText()).isEqualTo("stimulus.wav");
        var session = SessionReader.readManifest(dir.resolve("ribbon"));
        assertThat(session.microphone().maker()).isEqualTo("Hollow Oak");
        assertThat(session.microphone().ratedImpedanceOhm()).isEqualTo(270);
        assertThat(session.microphone().transducer()).isEqualTo("ribbon");
        assertThat(session.input().isKnown()).isFalse();
        assertThat(session.takes().get(1).load().isOpen()).isTrue();
        assertThat(session.takes().get(1).note()).isEqualTo("lid off");
        client.good("PUT", RIBBON + "/microphone", "{\"maker\": null}");
        assertThat(SessionReader.readManifest(dir.resolve("ribbon"))
                        .microphone()
                        .maker())
                .isNull();
    }

    @Test
    void aTakeIsTakenOutAndItsFileStaysAndComesBack() throws Exception {
        assertThat(client.delete(RIBBON + "/takes/take-3.wav").status()).isEqualTo(200);

        JsonNode without = client.json(RIBBON);
        assertThat(without.path("takes")).hasSize(2);
        assertThat(without.path("unlisted").get(0).path("file").asText()).isEqualTo("take-3.wav");
        assertThat(dir.resolve("ribbon/take-3.wav")).exists();
        JsonNode back = client.good(
                "POST",
                RIBBON + "/takes",
                "{\"file\": \"take-3.wav\", \"load_ohm\": 220, \"load_tolerance_percent\": 0.5}");
        assertThat(back.path("takes")).hasSize(3);
        assertThat(back.path("takes").get(2).path("load_tolerance_percent").asDouble())
                .isEqualTo(0.5);
        assertThat(client.delete(RIBBON + "/takes/take-9.wav").status()).isEqualTo(404);
    }

    @Test
    void aSessionIsBegunWithItsPlanAndFilled() throws Exception {
        JsonNode begun = client.good(
                "POST",
                "/api/sessions",
                "{\"microphone\": {\"label\": \"Brücke 3\", \"transducer\": \"moving-coil\"},"
                        + " \"input\": {\"resistance_ohm\": 3000, \"capacitance_pf\": 470},"
                        + " \"loads\": {\"ohm\": [150, \"open\"], \"tolerance_percent\": 0.1, \"repeat_first\": true}}");

        assertThat(begun.path("name").asText()).isEqualTo("brucke-3");
        assertThat(begun.path("planned_ohm").toString()).isEqualTo("[150.0,\"open\",150.0]");
        assertThat(begun.path("problem").isNull()).isTrue();
        JsonNode filled = client.upload(
                        "/api/sessions/brucke-3/files/my%20take.wav", OpenPage.RIBBON.resolve("take-1.wav"))
                .json();
        assertThat(filled.path("unlisted").get(0).path("file").asText()).isEqualTo("my take.wav");
        assertThat(dir.resolve("brucke-3/my take.wav")).hasSameBinaryContentAs(OpenPage.RIBBON.resolve("take-1.wav"));
        JsonNode again = client.good("POST", "/api/sessions", "{\"microphone\": {\"label\": \"Brücke 3\"}}");
        assertThat(again.path("name").asText()).isEqualTo("brucke-3-2");
        assertThat(again.path("input").path("resistance_ohm").asText()).isEqualTo("unknown");
    }

    @Test
    void aFolderOfASessionIsBroughtInManifestFirst() throws Exception {
        JsonNode empty = client.good("POST", "/api/sessions", "{\"name\": \"brought\"}");
        assertThat(empty.path("problem").asText()).contains("session.yaml");

        for (String file : new String[] {"session.yaml", "stimulus.wav", "take-1.wav", "take-2.wav"}) {
            assertThat(client.upload("/api/sessions/brought/files/" + file, OpenPage.RIBBON.resolve(file))
                            .status())
                    .isEqualTo(200);
        }
        JsonNode missing = client.json("/api/sessions/brought");
        assertThat(missing.path("takes")).hasSize(3);
        assertThat(missing.path("problem").asText()).contains("take-3.wav");
        client.upload("/api/sessions/brought/files/take-3.wav", OpenPage.RIBBON.resolve("take-3.wav"));
        assertThat(client.json("/api/sessions/brought").path("problem").isNull())
                .isTrue();
        client.good("POST", "/api/sessions/brought/measure", "{}");
    }

    @Test
    void theDemoIsThereAndMeasured() throws Exception {
        assertThat(client.good("POST", "/api/demo", "{}").path("name").asText()).isEqualTo("demo");
        JsonNode second = client.good("POST", "/api/demo", "{}");

        assertThat(second.path("name").asText()).isEqualTo("demo-2");
        assertThat(second.path("has_curve").asBoolean()).isTrue();
        assertThat(second.path("problem").isNull()).isTrue();
    }

    /** The divider of two resistors: 20·lg(1 + |Z|/R) for a real Z; see {@code circuit} for the whole. */
    @Test
    void aLoadTakesWhatTheDividerTakes() throws Exception {
        JsonNode curve = client.good("POST", RIBBON + "/measure", "{}");

        JsonNode match = client.good(
                "POST",
                "/api/match",
                "{\"curve\": \"session:ribbon\", \"load_ohm\": 1000, \"sensitivity_mv\": 1.5,"
                        + " \"preamplifier\": {\"gain_db\": 60, \"ein_dbu\": -128}}");

        for (int b = 0; b < curve.path("bands").path("frequency_hz").size(); b++) {
            double r = curve.path("bands").path("resistance_ohm").get(b).asDouble();
            double x = curve.path("bands").path("reactance_ohm").get(b).asDouble();
            double loss = 20 * Math.log10(Math.hypot(1 + r / 1000, x / 1000));
            assertThat(match.path("frequency_hz").get(b))
                    .isEqualTo(curve.path("bands").path("frequency_hz").get(b));
            assertThat(match.path("loss_db").get(b).asDouble()).isCloseTo(loss, within(1e-9));
        }
        assertThat(match.path("ten_times").asText()).isEqualTo("no");
        assertThat(match.path("loss_at_1k").path("value").asDouble()).isBetween(2.2, 2.4);
        assertThat(match.path("level").path("enough").asText()).isEqualTo("no");
        assertThat(match.path("level").path("level_dbu").path("value").asDouble())
                .isBetween(-57.0, -56.0);
        assertThat(client.send("POST", "/api/match", "{\"curve\": \"session:ribbon\", \"load_ohm\": 0}")
                        .error())
                .contains("Ω");
    }

    @Test
    void theInputsOfTheWorkshopAreTheOnesOfItsFile() throws Exception {
        client.good("POST", RIBBON + "/measure", "{}");
        assertThat(client.json("/api/inputs?curve=session:ribbon").path("inputs"))
                .isEmpty();
        Files.writeString(
                dir.resolve("inputs.yaml"),
                "version: 1\ninputs:\n  - {name: Desk channel 1, resistance_ohm: 2400, capacitance_pf: 470}\n");

        JsonNode inputs = client.json("/api/inputs?curve=session:ribbon");

        assertThat(inputs.path("inputs").get(0).path("name").asText()).isEqualTo("Desk channel 1");
        assertThat(inputs.path("inputs").get(0).path("ohm").asDouble()).isEqualTo(2400);
        double most = 10 * 316.8;
        assertThat(inputs.path("ten_times_ohm").path("value").asDouble()).isCloseTo(most, within(10.0));
        assertThat(inputs.path("least_for_loss").path("any").asBoolean()).isFalse();
    }

    @Test
    void theLineOfABandIsDrawnInBothThemes() throws Exception {
        client.good("POST", RIBBON + "/measure", "{}");

        PageClient.Answer light = client.get(RIBBON + "/lines?hz=1000");
        PageClient.Answer dark = client.get(RIBBON + "/lines?hz=4000&theme=dark");

        assertThat(light.header("content-type")).startsWith("image/svg+xml");
        assertThat(light.header("content-security-policy")).contains("sandbox");
        assertThat(light.text()).startsWith("<svg").contains("2200 Ω").isNotEqualTo(dark.text());
        assertThat(client.get(RIBBON + "/lines?hz=nonsense").status()).isEqualTo(400);
        assertThat(client.get(RIBBON + "/lines?hz=1").status()).isEqualTo(400);
    }

    @Test
    void aTakeIsLookedInto() throws Exception {
        JsonNode seen = client.json(RIBBON + "/takes/take-1.wav/inspection");

        assertThat(seen.path("seconds").asDouble()).isCloseTo(3.12, within(0.01));
        assertThat(seen.path("peak_dbfs").asDouble()).isBetween(-40.0, 0.0);
        JsonNode spectrum = seen.path("spectrum");
        assertThat(spectrum.path("signal_dbfs")).hasSameSizeAs(spectrum.path("frequency_hz"));
        // The sum over the bands is what the sounding part holds: its mean square, of which the peak is an upper bound.
        double power = 0;
        for (JsonNode db : spectrum.path("signal_dbfs")) {
            power += db.isNull() ? 0 : Math.pow(10, db.asDouble() / 10);
        }
        double rms = 10 * Math.log10(power);
        assertThat(rms)
                .isBetween(
                        seen.path("peak_dbfs").asDouble() - 15,
                        seen.path("peak_dbfs").asDouble());
        assertThat(client.get(RIBBON + "/takes/take-9.wav/inspection").status()).isEqualTo(404);
    }

    @Test
    void aTakeIsRenderedForAnotherLoadAsSound() throws Exception {
        client.good("POST", RIBBON + "/measure", "{}");

        PageClient.Answer answer = client.get(RIBBON + "/audition?take=take-1.wav&load_ohm=10000&whole=true");

        assertThat(answer.status()).isEqualTo(200);
        assertThat(answer.header("content-type")).isEqualTo("audio/wav");
        try (AudioInputStream sound = AudioSystem.getAudioInputStream(
                new ByteArrayInputStream(answer.response().body()))) {
            assertThat(sound.getFormat().getChannels()).isEqualTo(1);
            assertThat(sound.getFrameLength() / sound.getFormat().getSampleRate())
                    .isBetween(1f, 3.2f);
        }
        assertThat(client.get(RIBBON + "/audition?take=take-1.wav&load_ohm=-1").status())
                .isEqualTo(400);
        assertThat(client.get(RIBBON + "/audition?take=nix.wav&load_ohm=100").status())
                .isEqualTo(404);
    }

    @Test
    void devicesAreTold() throws Exception {
        JsonNode devices = client.json("/api/devices").path("devices");

        assertThat(devices).isNotEmpty();
        assertThat(devices.get(0).path("inputs").get(0).path("words").asText()).isNotEmpty();
    }
}
