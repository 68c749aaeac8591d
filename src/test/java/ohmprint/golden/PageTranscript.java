package ohmprint.golden;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Set;
import ohmprint.web.PageClient;
import org.jspecify.annotations.Nullable;

/**
 * Asks addresses of the page and takes in what they answer.
 *
 * @param outputs takes it in
 * @param client asks
 */
record PageTranscript(GoldenOutputs outputs, PageClient client) {
    private static final Set<String> TYPES = Set.of("pdf", "zip", "png", "wav", "html", "csv", "svg", "s1p", "json");

    /** Asks. */
    PageClient.Answer get(String name, String path) throws Exception {
        return told(name, "GET", path, null, client.get(path));
    }

    /** Sends JSON, written with single quotes. */
    PageClient.Answer send(String name, String method, String path, String json) throws Exception {
        String body = json.replace('\'', '"');
        return told(name, method, path, body, client.send(method, path, body));
    }

    /** Sends a file. */
    PageClient.Answer upload(String name, String path, Path file) throws Exception {
        return told(name, "PUT", path, "the bytes of " + file, client.upload(path, file));
    }

    /** Deletes. */
    PageClient.Answer delete(String name, String path) throws Exception {
        return told(name, "DELETE", path, null, client.delete(path));
    }

    /** Asks for a file of the page itself, of which only the kind counts here. */
    void kind(String name, String path) throws Exception {
        PageClient.Answer answer = client.get(path);
        outputs.text(name + ".txt", head("GET", path, null, answer));
    }

    /** Takes in an answer that was asked for otherwise. */
    PageClient.Answer told(String name, String method, String path, @Nullable String body, PageClient.Answer answer)
            throws Exception {
        String type = answer.header("content-type");
        String head = head(method, path, body, answer);
        byte[] bytes = answer.response().body();
        String text = new String(bytes, StandardCharsets.UTF_8);
        if (type.startsWith("application/json")
                && answer.header("content-disposition").isEmpty()) {
            outputs.text(name + ".txt", head + GoldenOutputs.broken(text));
        } else if (bytes.length == 0) {
            outputs.text(name + ".txt", head);
        } else {
            outputs.text(name + ".txt", head);
            outputs.file(name + "-file." + ending(type, answer.header("content-disposition")), bytes);
        }
        return answer;
    }

    private static String ending(String type, String disposition) {
        String name = disposition.replaceFirst(".*\\.([a-z0-9]+)\".*", "$1");
        if (TYPES.contains(name)) {
            return name;
        }
        return type.startsWith("image/svg") ? "svg" : type.startsWith("audio/wav") ? "wav" : "html";
    }

    private static String head(String method, String path, @Nullable String body, PageClient.Answer answer) {
        StringBuilder out = new StringBuilder(method + " " + path + "\n");
        if (body != null) {
            out.append(body).append('\n');
        }
        out.append("\n").append(answer.status()).append('\n');
        for (String header : new String[] {"content-type", "content-disposition", "cache-control"}) {
            if (!answer.header(header).isEmpty()) {
                out.append(header).append(": ").append(answer.header(header)).append('\n');
            }
        }
        return out.append('\n').toString();
    }
}
