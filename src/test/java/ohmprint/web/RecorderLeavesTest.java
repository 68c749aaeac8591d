package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import ohmprint.session.SessionReader;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** What stays of takes and of what was filled in when the recorder goes on, is closed, or ends with the program. */
@Tag("slow")
class RecorderLeavesTest extends CoilBeforeThePage {
    @Test
    void closingWithATakeThatWaitsPutsItAside() throws Exception {
        ready();
        try (EventReader window = window()) {
            recorded(window, 150);

            assertThat(told("close").isMissingNode()
                            || client.json(COIL).path("recorder").isNull())
                    .isTrue();

            assertThat(names()).contains("take-1.repeated-1.wav").doesNotContain("take-1.unfinished.wav");
            assertThat(client.json(COIL).path("unlisted").toString()).contains("take-1.repeated-1.wav");
            client.good("POST", COIL + "/recorder", "{\"do\": \"open\"}");
        }
    }

    @Test
    void theEndOfTheProgramPutsAWaitingTakeAsideAndTheNextGoesOn() throws Exception {
        ready();
        try (EventReader window = window()) {
            recorded(window, 150);
            told("keep");
            recorded(window, 1500);
        }
        page.close();

        page = OpenPage.of(dir, () -> bench, new BenchPage());
        client = page.client();

        JsonNode again = client.json(COIL);
        assertThat(again.path("takes")).hasSize(1);
        assertThat(again.path("unlisted").toString()).contains("take-2.repeated-1.wav");
        JsonNode recorder =
                client.good("POST", COIL + "/recorder", "{\"do\": \"open\"}").path("recorder");
        assertThat(recorder.path("remaining_ohm").toString()).isEqualTo("[1500.0,150.0]");
    }

    @Test
    void whatIsFilledInWhileItIsOpenStaysWhenATakeIsKept() throws Exception {
        ready();
        try (EventReader window = window()) {
            recorded(window, 150);
            client.good("PUT", COIL + "/microphone", "{\"serial\": \"0417\"}");
            told("keep");
            client.good("PUT", COIL + "/takes/take-1.wav", "{\"note\": \"lid closed\"}");
            recorded(window, 1500);
            told("keep");
        }

        var session = SessionReader.readManifest(dir.resolve("coil"));
        assertThat(session.microphone().serial()).isEqualTo("0417");
        assertThat(session.takes()).hasSize(2);
        assertThat(session.takes().get(0).note()).isEqualTo("lid closed");
        assertThat(client.delete(COIL + "/takes/take-1.wav")
                        .json()
                        .path("recorder")
                        .path("remaining_ohm"))
                .hasSize(2);
    }
}
