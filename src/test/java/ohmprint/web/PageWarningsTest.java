package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What the page is told besides an answer: what was not saved, what is not comparable, what was assumed, what is not there. */
@Tag("slow")
class PageWarningsTest extends RibbonAndOutside {
    private static final String LABEL = "label: Bench ribbon 9";

    private void measured(String session, String change) throws Exception {
        Path folder = workspace.resolve(session);
        if (!Files.exists(folder)) {
            OpenPage.copied(OpenPage.RIBBON, folder);
        }
        Path manifest = folder.resolve("session.yaml");
        String before = Files.readString(manifest);
        assertThat(before).contains(LABEL);
        Files.writeString(manifest, before.replace(LABEL, change));
        client.good("POST", "/api/sessions/" + session + "/measure", "{}");
    }

    @Test
    void aSecondKeepSaysWhatBecameOfOperatorAndNote() throws Exception {
        measured("ribbon", LABEL);
        String keep = "{\"curve\": \"session:ribbon\", \"operator\": \"%s\", \"notes\": %s}";
        JsonNode first = client.good("POST", "/api/library", keep.formatted("Ada Quill", "\"before the repair\""));
        assertThat(first.path("new").asBoolean()).isTrue();
        assertThat(first.path("notes")).isEmpty();

        JsonNode same = client.good("POST", "/api/library", keep.formatted("Ada Quill", "null"));
        assertThat(same.path("new").asBoolean()).isFalse();
        assertThat(same.path("notes")).isEmpty();

        JsonNode other = client.good("POST", "/api/library", keep.formatted("Bo Finch", "\"after it\""));
        assertThat(other.path("id").asText()).isEqualTo(first.path("id").asText());
        assertThat(other.path("notes").get(0).asText())
                .contains("operator 'Ada Quill'", "note 'before the repair'", "'Bo Finch'", "'after it'", "not saved");

        JsonNode entry =
                client.json("/api/library/" + first.path("id").asText()).path("entry");
        assertThat(entry.path("operator").asText()).isEqualTo("Ada Quill");
        assertThat(entry.path("note").asText()).isEqualTo("before the repair");
    }

    @ParameterizedTest
    @CsvSource({
        // One serial number is one microphone, whatever the label says.
        "'label: One, serial: 0417', 'label: Another, serial: 0417', false",
        "'label: One, serial: 0417', 'label: One, serial: 0418', true",
        "'label: One, model: M 3', 'label: One, model: M 4', true",
        "'label: One, serial: a 7', 'label: Another, serial: ''A 7 ''', false",
        "'label: One', 'label: Another', true",
        "'label: One', 'label: One', false"
    })
    void aDifferenceOfTwoMicrophonesIsMarked(String first, String second, boolean different) throws Exception {
        measured("ribbon", first);
        measured("other", second);

        JsonNode difference = client.json("/api/compare?curves=session:ribbon,session:other")
                .path("differences")
                .get(0);
        String report = client.get("/api/report?form=html&curve=session:ribbon&compared=session:other")
                .text();

        assertThat(difference.path("warning").asText("").contains("two different microphones"))
                .isEqualTo(different);
        assertThat(report).contains("Before and after");
        assertThat(report.contains("two different microphones")).isEqualTo(different);
    }

    @Test
    void aRepairThatLinksTwoMicrophonesIsMarked() throws Exception {
        measured("ribbon", "label: One, serial: 0417");
        measured("other", "label: One, serial: 0418");
        String keep = "{\"curve\": \"session:%s\", \"operator\": \"Ada Quill\"}";
        String before = client.good("POST", "/api/library", keep.formatted("ribbon"))
                .path("id")
                .asText();
        String after = client.good("POST", "/api/library", keep.formatted("other"))
                .path("id")
                .asText();

        JsonNode linked = client.good(
                "POST",
                "/api/library/" + before + "/repaired",
                "{\"after_id\": \"" + after + "\", \"operator\": \"Ada Quill\"}");

        assertThat(linked.path("warning").asText()).contains("serial number '0417' and '0418'");
    }

    /** 150 Ω is the source that the command line's help names. */
    @Test
    void equivalentInputNoiseSaysWithWhatSourceItCounts() throws Exception {
        measured("ribbon", LABEL);
        assertThat(client.json("/api/inputs?curve=session:ribbon")
                        .path("ein_source_ohm")
                        .asDouble())
                .isEqualTo(150);
        String question =
                "{\"curve\": \"session:ribbon\", \"load_ohm\": 1500, \"sensitivity_mv\": 1.5, \"preamplifier\": ";

        JsonNode answer = client.good("POST", "/api/match", question + "{\"gain_db\": null, \"ein_dbu\": -128}}");

        assertThat(answer.path("ein").asText()).isEqualTo("-128.0 dBu with a source of 150 Ω (assumed)");
        assertThat(client.good("POST", "/api/match", question + "null}")
                        .path("ein")
                        .isNull())
                .isTrue();
    }

    @ParameterizedTest
    @ValueSource(strings = {"/foo", "/session", "/session/ribbon/more", "/library/a/b", "/index.html"})
    void anUnknownAddressAnswersWithThePage(String path) throws Exception {
        PageClient.Answer answer = client.get(path);

        assertThat(answer.status()).isEqualTo(404);
        assertThat(answer.header("content-type")).startsWith("text/html");
        assertThat(answer.text()).isEqualTo(client.get("/").text());
    }

    @ParameterizedTest
    @ValueSource(strings = {"/api/foo", "/api/sessions/nix", "/api/", "/page/foo.js", "/lib/foo"})
    void whatIsNoViewAnswersWithJson(String path) throws Exception {
        PageClient.Answer answer = client.get(path);

        assertThat(answer.status()).isEqualTo(404);
        assertThat(answer.header("content-type")).startsWith("application/json");
        assertThat(answer.error()).isNotBlank();
    }

    @Test
    void whatWouldChangeSomethingAtAnUnknownAddressAnswersWithJson() throws Exception {
        assertThat(client.send("POST", "/foo", "{}").error()).isNotBlank();
    }
}
