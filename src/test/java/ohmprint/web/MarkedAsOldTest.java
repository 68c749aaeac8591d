package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Files;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** What the page is told of curves that no longer belong to their session, and of takes that were rejected. */
@Tag("slow")
class MarkedAsOldTest extends RibbonAndOutside {
    private JsonNode measured() throws Exception {
        return client.good("POST", "/api/sessions/ribbon/measure", "{}");
    }

    @Test
    void afterATakeWasRemovedTheCurveIsOld() throws Exception {
        assertThat(measured().path("outdated").isBoolean()).isTrue();
        assertThat(measured().path("outdated").asBoolean()).isFalse();
        assertThat(client.json("/api/sessions/ribbon").path("curve_outdated").asBoolean())
                .isFalse();

        JsonNode answer = client.delete("/api/sessions/ribbon/takes/take-3.wav").json();

        assertThat(answer.path("has_curve").asBoolean()).isTrue();
        assertThat(answer.path("curve_outdated").asBoolean()).isTrue();
        assertThat(client.json("/api/sessions/ribbon").path("curve_outdated").asBoolean())
                .isTrue();
        for (String address : new String[] {"/api/sessions/ribbon/curve", "/api/curves/session:ribbon"}) {
            assertThat(client.json(address).path("outdated").asBoolean())
                    .as(address)
                    .isTrue();
        }
        try (EventReader events = new EventReader(client.events("ribbon"))) {
            assertThat(events.next("session").path("curve_outdated").asBoolean())
                    .isTrue();
            assertThat(events.next("curve").path("outdated").asBoolean()).isTrue();
        }

        assertThat(measured().path("outdated").asBoolean()).isFalse();
        assertThat(client.json("/api/sessions/ribbon").path("curve_outdated").asBoolean())
                .isFalse();
    }

    @Test
    void whatTheRecorderPutAsideIsToldApartFromFilesThatAskForALoad() throws Exception {
        for (String name :
                new String[] {"take-4.repeated-1.wav", "take-4.unusable-2.wav", "take-5.wav", "a.repeated.wav"}) {
            Files.copy(
                    workspace.resolve("ribbon/take-1.wav"),
                    workspace.resolve("ribbon").resolve(name));
        }

        JsonNode unlisted = client.json("/api/sessions/ribbon").path("unlisted");

        for (JsonNode file : unlisted) {
            String name = file.path("file").asText();
            assertThat(file.path("rejected").asBoolean()).as(name).isEqualTo(name.startsWith("take-4."));
        }
        assertThat(unlisted).hasSize(4);
    }
}
