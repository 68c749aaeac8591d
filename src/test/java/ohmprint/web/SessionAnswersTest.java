package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Files;
import ohmprint.app.NamedCurve;
import ohmprint.impedance.BandValue;
import ohmprint.session.SessionReader;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Each address of sessions with a real session, against what the use cases say. */
@Tag("slow")
class SessionAnswersTest extends RibbonBeforeThePage {
    private static void assertColumn(
            JsonNode column, NamedCurve curve, java.util.function.ToDoubleFunction<BandValue> f) {
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

        NamedCurve stored = NamedCurve.of(dir.resolve("ribbon/result").toString());
        JsonNode bands = curve.path("bands");
        assertColumn(bands.path("frequency_hz"), stored, BandValue::frequencyHz);
        assertColumn(bands.path("magnitude_ohm"), stored, BandValue::magnitudeOhm);
        assertColumn(bands.path("magnitude_u95_ohm"), stored, BandValue::magnitudeU95Ohm);
        assertColumn(bands.path("phase_deg"), stored, BandValue::phaseDeg);
        assertColumn(bands.path("phase_u95_deg"), stored, BandValue::phaseU95Deg);
        assertColumn(bands.path("resistance_ohm"), stored, BandValue::resistanceOhm);
        assertColumn(bands.path("reactance_ohm"), stored, BandValue::reactanceOhm);
        assertColumn(bands.path("magnitude_low_ohm"), stored, BandValue::magnitudeLowOhm);
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

    @Test
    void devicesAreTold() throws Exception {
        JsonNode devices = client.json("/api/devices").path("devices");

        assertThat(devices).isNotEmpty();
        assertThat(devices.get(0).path("inputs").get(0).path("words").asText()).isNotEmpty();
    }
}
