package ohmprint.web;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublisher;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.app.workspace.Bench;
import ohmprint.app.workspace.PageDoor;
import ohmprint.curve.Measurement;
import ohmprint.exchange.CurveJson;

/** A workspace that is served in this process, and one who asks it as the page does, without a browser. */
final class OpenBench implements AutoCloseable {
    private static final ObjectMapper JSON = new ObjectMapper();

    private final Path workspace;
    private final Bench bench;
    private final PageDoor.Page page;
    private final HttpClient client = HttpClient.newHttpClient();
    private final String own;
    private final String cookie;

    private OpenBench(Path workspace, Bench bench, PageDoor.Page page) throws Exception {
        this.workspace = workspace;
        this.bench = bench;
        this.page = page;
        this.own = page.link().replaceFirst("/open.*", "");
        HttpResponse<byte[]> admitted =
                client.send(HttpRequest.newBuilder(URI.create(page.link())).build(), BodyHandlers.ofByteArray());
        this.cookie = admitted.headers().firstValue("Set-Cookie").orElseThrow().replaceFirst(";.*", "");
    }

    /** Opens a folder. */
    static OpenBench in(Path workspace) throws Exception {
        Bench bench = Bench.open(workspace, null);
        return new OpenBench(workspace, bench, new BenchPage().open(bench, 0));
    }

    /** A session that has been measured already, with this result; returns its name as a curve. */
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
        return page.link();
    }

    Path workspace() {
        return workspace;
    }

    /** An answer that has to be good. */
    JsonNode get(String path) throws Exception {
        return good(path, send("GET", path, null, null));
    }

    /** Sends JSON, written with single quotes; the answer has to be good. */
    JsonNode post(String path, String json) throws Exception {
        return good(path, send("POST", path, BodyPublishers.ofString(json.replace('\'', '"')), "application/json"));
    }

    /** The words of a refusal with this status. */
    String refused(int status, String method, String path, String json) throws Exception {
        BodyPublisher body = json == null ? null : BodyPublishers.ofString(json.replace('\'', '"'));
        HttpResponse<byte[]> answer = send(method, path, body, json == null ? null : "application/json");
        assertThat(answer.statusCode()).as(new String(answer.body(), UTF_8)).isEqualTo(status);
        return JSON.readTree(answer.body()).get("error").asText();
    }

    /** Any request; with null for the body, none is sent. */
    HttpResponse<byte[]> send(String method, String path, BodyPublisher body, String type) throws Exception {
        HttpRequest.Builder request = HttpRequest.newBuilder(URI.create(own + path))
                .header("Cookie", cookie)
                .header("Origin", own)
                .method(method, body == null ? BodyPublishers.noBody() : body);
        if (type != null) {
            request.header("Content-Type", type);
        }
        return client.send(request.build(), BodyHandlers.ofByteArray());
    }

    private static JsonNode good(String path, HttpResponse<byte[]> answer) throws IOException {
        assertThat(answer.statusCode())
                .as(path + ": " + new String(answer.body(), UTF_8))
                .isEqualTo(200);
        return JSON.readTree(answer.body());
    }

    @Override
    public void close() {
        page.close();
        bench.close();
    }
}
