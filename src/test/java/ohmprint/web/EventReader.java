package ohmprint.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;

/** Reads a stream of events as a window does. */
public final class EventReader implements AutoCloseable {
    private static final long PATIENCE_SECONDS = 60;

    private final InputStream in;
    private final LinkedBlockingQueue<Event> events = new LinkedBlockingQueue<>();

    /** One event. */
    public record Event(String name, String id, JsonNode data) {}

    /** Begins to read. */
    public EventReader(InputStream in) {
        this.in = in;
        Thread reading = new Thread(this::read, "window");
        reading.setDaemon(true);
        reading.start();
    }

    private void read() {
        try (BufferedReader lines = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8))) {
            String name = "";
            String id = "";
            for (String line; (line = lines.readLine()) != null; ) {
                if (line.startsWith("event:")) {
                    name = line.substring(6).strip();
                } else if (line.startsWith("id:")) {
                    id = line.substring(3).strip();
                } else if (line.startsWith("data:")) {
                    events.add(new Event(name, id, new JsonMapper().readTree(line.substring(5))));
                }
            }
        } catch (IOException e) {
            events.add(new Event("ended", "", null));
        }
        events.add(new Event("ended", "", null));
    }

    /** Reads on to an event of a name. */
    public JsonNode next(String name) throws InterruptedException {
        return next(name, data -> true);
    }

    /** Reads on to an event of a name that is as wanted. */
    public JsonNode next(String name, Predicate<JsonNode> wanted) throws InterruptedException {
        List<String> others = new ArrayList<>();
        for (Event event; (event = events.poll(PATIENCE_SECONDS, TimeUnit.SECONDS)) != null; ) {
            if (event.name().equals(name) && wanted.test(event.data())) {
                return event.data();
            }
            others.add(event.name() + (event.name().equals("note") ? " " + event.data() : ""));
            if (event.name().equals("ended")) {
                break;
            }
        }
        throw new AssertionError("no event " + name + " came, but " + others);
    }

    /** Reads on to a session whose recorder is at a step. */
    public JsonNode step(String step) throws InterruptedException {
        return next("session", s -> s.path("recorder").path("step").asText().equals(step));
    }

    @Override
    public void close() throws IOException {
        in.close();
    }
}
