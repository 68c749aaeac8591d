package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import ohmprint.audiodevice.FormatTrial;
import ohmprint.loopback.SimulatedBench;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** A session recorded through the page on a bench that exists only in numbers. */
@Tag("slow")
class RecorderTest extends CoilBeforeThePage {
    @Test
    void aSessionIsRecordedFromCautionsToACurveAndTwoWindowsSeeTheSame() throws Exception {
        try (EventReader one = window();
                EventReader two = window()) {
            JsonNode opened = client.good("POST", COIL + "/recorder", OPEN).path("recorder");
            assertThat(opened.path("step").asText()).isEqualTo("cautions");
            assertThat(opened.path("cautions").toString()).contains("ribbon");
            assertThat(opened.path("remaining_ohm").toString()).isEqualTo("[150.0,1500.0,150.0]");
            assertThat(opened.path("level_ohm").asDouble()).isEqualTo(1500);

            assertThat(told("cautions-read").path("step").asText()).isEqualTo("level");
            bench.ohm = 1500;
            PageClient.Answer trial = tell("check-level");
            assertThat(trial.status()).isEqualTo(202);
            JsonNode level = one.next(
                            "session", s -> s.path("recorder").path("level").isObject())
                    .path("recorder");
            assertThat(level.path("step").asText()).isEqualTo("level");
            assertThat(level.path("level").path("acceptable").asBoolean()).isTrue();
            assertThat(level.path("level").path("predicted_median_u95_percent").asDouble())
                    .isPositive();
            told("level-accepted");

            for (double ohm : new double[] {150, 1500, 150}) {
                JsonNode judged = recorded(one, ohm);
                JsonNode take = judged.path("recorder").path("take");
                assertThat(take.path("load_ohm").asDouble()).isEqualTo(ohm);
                assertThat(take.path("usable").asBoolean()).isTrue();
                assertThat(two.step("judge").path("recorder").path("take")).isEqualTo(take);
                String file = take.path("file").asText();
                assertThat(client.json(COIL + "/takes/" + file + "/inspection")
                                .path("seconds")
                                .asDouble())
                        .isGreaterThan(2);
                told("keep");
            }
            assertThat(one.step("done").path("recorder").path("next_ohm").isNull())
                    .isTrue();
            JsonNode curve = two.next("curve", c -> c.path("loads").size() == 3);

            int at = nearest(curve.path("bands").path("frequency_hz"), 1000);
            double z = SimulatedBench.COIL
                    .impedance(curve.path("bands").path("frequency_hz").get(at).asDouble())
                    .abs();
            double seen = curve.path("bands").path("magnitude_ohm").get(at).asDouble();
            double u95 = curve.path("bands").path("magnitude_u95_ohm").get(at).asDouble();
            assertThat(Math.abs(seen - z)).isLessThan(2 * u95);
            assertThat(u95).isLessThan(0.1 * z);
        }
    }

    private static int nearest(JsonNode hz, double wanted) {
        int best = 0;
        for (int i = 0; i < hz.size(); i++) {
            if (Math.abs(hz.get(i).asDouble() - wanted) < Math.abs(hz.get(best).asDouble() - wanted)) {
                best = i;
            }
        }
        return best;
    }

    @Test
    void whileItSoundsASecondWindowIsRefusedAndMayCancel() throws Exception {
        ready();
        CountDownLatch sounding = new CountDownLatch(1);
        CountDownLatch goOn = new CountDownLatch(1);
        bench.halfway = () -> {
            sounding.countDown();
            try {
                goOn.await(20, TimeUnit.SECONDS);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        };
        try (EventReader window = window()) {
            assertThat(told("record").path("step").asText()).isEqualTo("sounding");
            assertThat(sounding.await(20, TimeUnit.SECONDS)).isTrue();

            assertThat(tell("record").status()).isEqualTo(409);
            assertThat(tell("keep").error()).contains("at work");
            assertThat(client.send("PUT", COIL + "/microphone", "{\"label\": \"other\"}")
                            .status())
                    .isEqualTo(409);
            assertThat(client.get("/api/devices").status()).isEqualTo(409);
            assertThat(client.json(COIL).path("recorder").path("step").asText()).isEqualTo("sounding");
            assertThat(tell("cancel").status()).isEqualTo(200);
            goOn.countDown();

            window.next("note", n -> n.path("message").asText().contains("cancelled"));
            window.step("fit");
        }
        assertThat(names()).contains("take-1.unusable-1.wav");
        bench.halfway = () -> {};
        try (EventReader window = window()) {
            recorded(window, 150);
        }
    }

    @Test
    void aDeviceThatIsLostIsToldAndWhatItBroughtIsKept() throws Exception {
        ready();
        bench.lostAfter = 1;
        try (EventReader window = window()) {
            told("record");

            JsonNode failed =
                    window.next("session", s -> s.path("recorder").path("error").isTextual());

            assertThat(failed.path("recorder").path("step").asText()).isEqualTo("fit");
            assertThat(failed.path("recorder").path("error").asText()).isNotEmpty();
            assertThat(names()).contains("take-1.unusable-1.wav");
            bench.lostAfter = Double.POSITIVE_INFINITY;
            assertThat(recorded(window, 150).path("recorder").path("error").isNull())
                    .isTrue();
        }
    }

    @Test
    void whatIsNotPossibleNowIsAConflictWithWords() throws Exception {
        assertThat(tell("record").status()).isEqualTo(409);
        assertThat(tell("record").error()).contains("not open");
        assertThat(tell("dance").status()).isEqualTo(400);
        client.good("POST", COIL + "/recorder", OPEN);
        assertThat(client.send("POST", COIL + "/recorder", OPEN).status()).isEqualTo(409);
        assertThat(tell("record").error()).contains("cautions");
        assertThat(tell("keep").status()).isEqualTo(409);
        assertThat(tell("level-accepted").error()).contains("cautions");
    }

    @Test
    void aDeviceThatConvertsIsRefusedBeforeAnythingIsWritten() throws Exception {
        bench.verdict = FormatTrial.Verdict.CONVERTED;
        List<String> before = names();

        PageClient.Answer answer = client.send("POST", COIL + "/recorder", OPEN);

        assertThat(answer.status()).isEqualTo(400);
        assertThat(answer.error()).contains("convert");
        assertThat(names()).isEqualTo(before);
        assertThat(client.json(COIL).path("recorder").isNull()).isTrue();
    }

    @Test
    void valuesThatCannotBeAreRefused() throws Exception {
        for (String part : List.of(
                "\"sound\": {\"seconds\": -1}",
                "\"sound\": {\"seconds\": 1e9}",
                "\"sound\": {\"from_hz\": 900, \"to_hz\": 90}",
                "\"sound\": {\"peak_dbfs\": 3}",
                "\"sound\": {\"kind\": \"bang\"}",
                "\"bench\": {\"channel\": 0}",
                "\"bench\": {\"sample_rate\": 1}",
                "\"bench\": {\"channel\": 2, \"reference_channel\": 2}",
                "\"loads\": {\"ohm\": [150]}",
                "\"loads\": {\"ohm\": [150, -1]}",
                "\"loads\": {\"ohm\": [\"unknown\", 1]}")) {
            PageClient.Answer answer = client.send("POST", COIL + "/recorder", "{\"do\": \"open\", " + part + "}");
            assertThat(answer.status()).as(part).isEqualTo(400);
            assertThat(answer.error()).as(part).isNotEmpty();
        }
        assertThat(bench.runs).isEmpty();
    }
}
