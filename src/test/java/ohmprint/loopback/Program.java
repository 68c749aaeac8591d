package ohmprint.loopback;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;

/**
 * A program of this project in a process of its own, which sees a sound server by its environment: Java asks for that only
 * when it starts.
 */
public final class Program implements AutoCloseable {
    private static final long PATIENCE_SECONDS = 120;

    private final Process process;
    private final Path errors;
    private final BufferedReader out;
    private final Writer in;
    private final List<JsonNode> events = new ArrayList<>();

    private Program(Process process, Path errors) {
        this.process = process;
        this.errors = errors;
        this.out = process.inputReader(StandardCharsets.UTF_8);
        this.in = new OutputStreamWriter(process.getOutputStream(), StandardCharsets.UTF_8);
    }

    /** The command line of ohmprint. */
    public static Program ohmprint(Map<String, String> environment, Path folder, String... args) throws IOException {
        return start("ohmprint.cli.Main", environment, folder, args);
    }

    /** Any class with a main method. */
    public static Program start(String main, Map<String, String> environment, Path folder, String... args)
            throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-XX:+UseSerialGC",
                "-cp",
                System.getProperty("java.class.path"),
                main));
        command.addAll(List.of(args));
        Path errors = Files.createTempFile(folder, "stderr", ".txt");
        ProcessBuilder builder = new ProcessBuilder(command).directory(folder.toFile());
        builder.environment().putAll(environment);
        builder.redirectError(errors.toFile());
        return new Program(builder.start(), errors);
    }

    /** The next line of standard output as it is; null at its end. */
    public String line() throws IOException {
        return out.readLine();
    }

    /** The next line of standard output as JSON; null at its end. */
    public JsonNode event() throws IOException {
        String line = out.readLine();
        JsonNode event = line == null ? null : new JsonMapper().readTree(line);
        if (event != null) {
            events.add(event);
        }
        return event;
    }

    /** Reads on to the next event of a name. */
    public JsonNode event(String name) throws IOException {
        for (JsonNode event; (event = event()) != null; ) {
            if (event.path("event").asText().equals(name)) {
                return event;
            }
        }
        throw new IOException("no event " + name + " came; events: " + events + "; errors: " + errors());
    }

    /** All events that were read. */
    public List<JsonNode> events() {
        return List.copyOf(events);
    }

    /** Sends a line to standard input. */
    public void send(String line) throws IOException {
        in.write(line + "\n");
        in.flush();
    }

    /** Reads the rest of standard output and returns the exit code. */
    public int ended() throws IOException, InterruptedException {
        String line = out.readLine();
        while (line != null) {
            if (line.startsWith("{")) {
                events.add(new JsonMapper().readTree(line));
            }
            line = out.readLine();
        }
        if (!process.waitFor(PATIENCE_SECONDS, TimeUnit.SECONDS)) {
            throw new IOException("the program does not end; errors: " + errors());
        }
        return process.exitValue();
    }

    /** Ends it as {@code kill -9} does. */
    public void kill() {
        process.destroyForcibly().onExit().join();
    }

    /** Ends it as Ctrl-C does. */
    public void interrupt() throws IOException, InterruptedException {
        new ProcessBuilder("kill", "-INT", Long.toString(process.pid())).start().waitFor();
    }

    /** What standard error holds. */
    public String errors() throws IOException {
        return Files.readString(errors);
    }

    @Override
    public void close() {
        if (process.isAlive()) {
            kill();
        }
    }
}
