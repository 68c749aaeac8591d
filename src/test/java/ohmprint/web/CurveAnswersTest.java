package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.ByteArrayInputStream;
import java.nio.file.Files;
import javax.sound.sampled.AudioInputStream;
import javax.sound.sampled.AudioSystem;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** What is asked about the curve and the takes of a session, against what the use cases and the divider say. */
@Tag("slow")
class CurveAnswersTest extends RibbonBeforeThePage {
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
        assertThat(match.path("loss_1khz_db").asDouble()).isBetween(2.2, 2.4);
        assertThat(match.path("enough").asText()).isEqualTo("no");
        assertThat(match.path("level_dbu").asDouble()).isBetween(-57.0, -56.0);
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
        assertThat(inputs.path("inputs").get(0).path("load_ohm").asDouble()).isEqualTo(2400);
        double most = 10 * 316.8;
        assertThat(inputs.path("ten_times_ohm").asDouble()).isCloseTo(most, within(10.0));
        assertThat(inputs.path("least_load_1db_any").asBoolean()).isFalse();
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
}
