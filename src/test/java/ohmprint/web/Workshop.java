package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Measurement;
import org.jspecify.annotations.Nullable;

/**
 * A page for a workspace with sessions that have been measured already, and one who asks it.
 *
 * @param folder the workspace
 * @param page the page
 * @param client who asks; JSON is written with single quotes
 */
record Workshop(Path folder, OpenPage page, PageClient client) implements AutoCloseable {
    /** Opens a folder. */
    static Workshop in(Path folder) throws Exception {
        OpenPage page = OpenPage.of(folder);
        return new Workshop(folder, page, page.client());
    }

    /** A session with this result, without takes; returns the name of its curve. */
    static String measured(Path workspace, String name, Measurement result) throws IOException {
        Path session = workspace.resolve(name);
        Files.createDirectories(session.resolve("result"));
        Files.writeString(
                session.resolve("session.yaml"),
                "version: 1\nmicrophone: {label: \"" + result.microphone().label()
                        + "\"}\ninput: {resistance_ohm: 3000}\ntakes: []\n");
        Files.writeString(session.resolve("result/curve.json"), CurveJson.write(result));
        return "session:" + name;
    }

    /** The link that admits a browser. */
    String link() {
        return page.page().link();
    }

    JsonNode get(String path) throws Exception {
        return client.json(path);
    }

    JsonNode post(String path, String json) throws Exception {
        return client.good("POST", path, json.replace('\'', '"'));
    }

    /** The words of a refusal with this status. */
    String refused(int status, String method, String path, @Nullable String json) throws Exception {
        PageClient.Answer answer = json == null ? client.get(path) : client.send(method, path, json.replace('\'', '"'));
        assertThat(answer.status()).as(answer.text()).isEqualTo(status);
        return answer.error();
    }

    @Override
    public void close() {
        page.close();
    }
}
