package ohmprint.golden;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/** What {@code measure} says and writes for each session of the fixtures on each route, or why it refuses. */
final class GoldenResults {
    private static final Path SESSIONS = Path.of("fixtures/sessions");
    private static final List<String> ROUTES = List.of("auto", "stimulus", "reference", "common", "power");

    private GoldenResults() {}

    static void write(GoldenOutputs outputs, Path folder) throws IOException {
        CommandTranscript line = new CommandTranscript(outputs);
        try (Stream<Path> sessions = Files.list(SESSIONS)) {
            for (Path session : sessions.sorted().toList()) {
                for (String route : ROUTES) {
                    String name = session.getFileName() + "/" + route;
                    Path out = folder.resolve(name);
                    line.run(name + "/said", "measure", session, "--route", route, "--out", out);
                    if (Files.exists(out)) {
                        outputs.folder(name, out);
                    }
                }
            }
        }
    }
}
