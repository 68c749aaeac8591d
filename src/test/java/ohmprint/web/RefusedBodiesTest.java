package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Bodies that cannot be understood, or say what cannot be. */
@Tag("slow")
class RefusedBodiesTest extends RibbonAndOutside {
    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "null",
                "[]",
                "\"text\"",
                "{",
                "{\"label\": \"a\", \"label\": \"b\"}",
                "{\"label\": \"a\"} {}",
                "{\"label\": {}}",
                "{\"rated_impedance_ohm\": \"200\"}",
                "{\"rated_impedance_ohm\": -1}",
                "{\"rated_impedance_ohm\": 1e999}",
                "{\"nonsense\": 1}",
                "{\"label\": \"\"}",
                "{\"transducer\": \"spark\"}"
            })
    void aBodyThatCannotBeIsRefusedAndTheManifestStays(String body) throws Exception {
        String before = Files.readString(workspace.resolve("ribbon/session.yaml"));

        PageClient.Answer answer = client.send("PUT", "/api/sessions/ribbon/microphone", body);

        assertThat(answer.status()).as(answer.text()).isEqualTo(400);
        assertThat(answer.error()).isNotBlank().doesNotContain("com.fasterxml", "ohmprint.app", "\n");
        assertThat(workspace.resolve("ribbon/session.yaml")).hasContent(before);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{\"file\": \"../outside/x.wav\", \"load_ohm\": 220}",
                "{\"file\": \"/etc/passwd\", \"load_ohm\": 220}",
                "{\"file\": \"nix.wav\", \"load_ohm\": 220}",
                "{\"file\": \"take-1.wav\", \"load_ohm\": 220}",
                "{\"file\": \"stimulus.wav\"}",
                "{\"file\": \"stimulus.wav\", \"load_ohm\": 0}",
                "{\"file\": \"stimulus.wav\", \"load_ohm\": \"unknown\"}",
                "{\"file\": \"stimulus.wav\", \"load_ohm\": 220, \"channel\": 2}",
                "{\"file\": \"stimulus.wav\", \"load_ohm\": 220, \"channel\": 0}",
                "{\"file\": \"stimulus.wav\", \"load_ohm\": 220, \"time\": \"yesterday\"}"
            })
    void aTakeThatCannotBeIsRefused(String body) throws Exception {
        String before = Files.readString(workspace.resolve("ribbon/session.yaml"));

        PageClient.Answer answer = client.send("POST", "/api/sessions/ribbon/takes", body);

        assertThat(answer.status()).as(answer.text()).isIn(400, 404);
        assertThat(workspace.resolve("ribbon/session.yaml")).hasContent(before);
    }
}
