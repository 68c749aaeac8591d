package ohmprint.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublisher;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;

/** A browser that was admitted by a link, as far as requests go; and one that says whatever it likes. */
public final class PageClient {
    private static final JsonMapper MAPPER = new JsonMapper();
    private static final int SMALL = 2048;
    private static final Duration PATIENCE = Duration.ofSeconds(60);

    private final HttpClient http = HttpClient.newBuilder()
            .version(HttpClient.Version.HTTP_1_1)
            .followRedirects(HttpClient.Redirect.NEVER)
            .build();
    private final String base;
    private final String cookie;

    private PageClient(String base, String link) throws IOException, InterruptedException {
        this.base = base;
        HttpResponse<String> admitted =
                http.send(HttpRequest.newBuilder(URI.create(link)).build(), BodyHandlers.ofString());
        this.cookie = admitted.headers().firstValue("set-cookie").orElse("").replaceFirst(";.*", "");
    }

    /** A browser that has opened the link. */
    public static PageClient admitted(String link) throws IOException, InterruptedException {
        return new PageClient(link.substring(0, link.indexOf("/open")), link);
    }

    /** Where the page is. */
    public String base() {
        return base;
    }

    /** The cookie that it was given, name and value. */
    public String cookie() {
        return cookie;
    }

    /** The port of the server. */
    public int port() {
        return URI.create(base).getPort();
    }

    /** An answer. */
    public record Answer(int status, HttpResponse<byte[]> response) {
        /** Its JSON. */
        public JsonNode json() throws IOException {
            return MAPPER.readTree(response.body());
        }

        /** Its text. */
        public String text() {
            return new String(response.body(), StandardCharsets.UTF_8);
        }

        /** What it says went wrong. */
        public String error() throws IOException {
            return json().path("error").asText();
        }

        /** The value of a header, empty without it. */
        public String header(String name) {
            return response.headers().firstValue(name).orElse("");
        }
    }

    /** Asks. */
    public Answer get(String path) throws IOException, InterruptedException {
        return send(request(path).GET());
    }

    /** Asks, and expects JSON with status 200. */
    public JsonNode json(String path) throws IOException, InterruptedException {
        return good(get(path));
    }

    /** Sends JSON. */
    public Answer send(String method, String path, String json) throws IOException, InterruptedException {
        return send(request(path)
                .header("Origin", base)
                .header("Content-Type", "application/json")
                .method(method, BodyPublishers.ofString(json)));
    }

    /** Sends JSON, and expects an answer with status 200 or 202. */
    public JsonNode good(String method, String path, String json) throws IOException, InterruptedException {
        return good(send(method, path, json));
    }

    /** Sends bytes of a file. */
    public Answer upload(String path, BodyPublisher body) throws IOException, InterruptedException {
        return send(request(path)
                .header("Origin", base)
                .header("Content-Type", "application/octet-stream")
                .PUT(body));
    }

    /** Sends a file. */
    public Answer upload(String path, Path file) throws IOException, InterruptedException {
        return upload(path, BodyPublishers.ofFile(file));
    }

    /** Deletes. */
    public Answer delete(String path) throws IOException, InterruptedException {
        return send(request(path).header("Origin", base).DELETE());
    }

    /** The stream of events of a session. */
    public InputStream events(String session) throws IOException, InterruptedException {
        HttpRequest request = HttpRequest.newBuilder(URI.create(base + "/api/sessions/" + session + "/events"))
                .header("Cookie", cookie)
                .header("Accept", "text/event-stream")
                .build();
        return http.send(request, BodyHandlers.ofInputStream()).body();
    }

    /** A window that asks for the events of a session and then takes none; its own buffer holds next to nothing. */
    public Socket asleep(String session) throws IOException {
        Socket socket = new Socket();
        socket.setReceiveBufferSize(SMALL);
        socket.connect(new InetSocketAddress("127.0.0.1", port()));
        String text = "GET /api/sessions/" + session + "/events HTTP/1.1\r\nHost: 127.0.0.1:" + port() + "\r\nCookie: "
                + cookie + "\r\nAccept: text/event-stream\r\n\r\n";
        socket.getOutputStream().write(text.getBytes(StandardCharsets.ISO_8859_1));
        socket.getOutputStream().flush();
        return socket;
    }

    private HttpRequest.Builder request(String path) {
        return HttpRequest.newBuilder(URI.create(base + path))
                .header("Cookie", cookie)
                .timeout(PATIENCE);
    }

    private Answer send(HttpRequest.Builder request) throws IOException, InterruptedException {
        HttpResponse<byte[]> response = http.send(request.build(), BodyHandlers.ofByteArray());
        return new Answer(response.statusCode(), response);
    }

    private static JsonNode good(Answer answer) throws IOException {
        if (answer.status() != 200 && answer.status() != 202) {
            throw new AssertionError("status " + answer.status() + ": " + answer.text());
        }
        return answer.json();
    }

    /** Sends lines as they are, without any that a library would add, and returns all that comes back. */
    public String raw(String... lines) throws IOException {
        try (Socket socket = new Socket("127.0.0.1", port())) {
            socket.setSoTimeout((int) PATIENCE.toMillis());
            String text = String.join("\r\n", lines) + "\r\nConnection: close\r\n\r\n";
            socket.getOutputStream().write(text.getBytes(StandardCharsets.ISO_8859_1));
            socket.getOutputStream().flush();
            return new String(socket.getInputStream().readAllBytes(), StandardCharsets.ISO_8859_1);
        }
    }
}
