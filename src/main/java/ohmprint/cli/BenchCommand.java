package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.ServiceLoader;
import java.util.concurrent.CountDownLatch;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.PageServer;
import ohmprint.app.workspace.Workspace;
import ohmprint.cli.ValueFormat.Range;

/** {@code bench}: a page in the browser for a folder of sessions. */
final class BenchCommand extends Command {
    /** Its name. */
    static final String NAME = "bench";

    /** What it is for. */
    static final String HEADER = "The bench as a page in your browser.";

    private static final Parameter<Path> WORKSPACE = Parameter.option(
            "--workspace",
            "DIR",
            "Folder that holds your sessions (default: the current folder).",
            ValueFormat.path("the path of a folder"));
    private static final Parameter<String> LIBRARY = Parameter.option(
            "--library",
            "FILE|URL",
            "The library: a file, or jdbc:postgresql://HOST/DATABASE (default: library.db in the workspace).");
    private static final Parameter<Integer> PORT = Parameter.option(
                    "--port",
                    "N",
                    "Port at the loopback address; 0 takes any free one.",
                    new Range("", 0, 65_535, "8080").whole())
            .usually(0);
    private static final Parameter<String> NO_OPEN =
            Parameter.flag("--no-open", "Print the link only, do not open the browser.");

    BenchCommand() {
        super(
                NAME,
                HEADER,
                new Usage(
                        "Serves a page to this computer alone, until it is stopped with Ctrl-C. The link on standard"
                                + " output admits a browser; give it to nobody: who has it can do what you can. What the"
                                + " page makes are the sessions, results and library that the other commands work with.",
                        Usage.example("bench --workspace sessions") + Usage.EXIT_CODES + Usage.CAUTIONS,
                        WORKSPACE,
                        LIBRARY,
                        PORT,
                        NO_OPEN));
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        Path folder = given.or(WORKSPACE, console.around().folder());
        Workspace bench = Workspace.open(folder, given.find(LIBRARY));
        PageServer.Page page = door().open(bench, given.get(PORT));
        CountDownLatch ended = new CountDownLatch(1);
        Runtime.getRuntime().addShutdownHook(new Thread(() -> {
            page.close();
            bench.close();
            ended.countDown();
        }));
        console.line(page.link());
        console.out().flush();
        console.note(
                "ohmprint: the bench is open for " + folder.toAbsolutePath().normalize() + "; Ctrl-C ends it");
        if (!given.has(NO_OPEN) && !openBrowser(page.linkForOnce())) {
            console.note("ohmprint: no browser was found to open it; open the link above");
        }
        try {
            ended.await();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            page.close();
            bench.close();
        }
        return ExitCode.DONE;
    }

    private static PageServer door() {
        return ServiceLoader.load(PageServer.class)
                .findFirst()
                .orElseThrow(() -> new IllegalStateException("the program does not hold its page"));
    }

    /** Hands a link to the browser of this computer; false when there is no way to. */
    private static boolean openBrowser(String link) {
        List<String> command = new ArrayList<>(opener(System.getProperty("os.name", ""), System.getenv()));
        if (command.isEmpty()) {
            return false;
        }
        command.add(link);
        try {
            new ProcessBuilder(command)
                    .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                    .redirectError(ProcessBuilder.Redirect.DISCARD)
                    .start();
            return true;
        } catch (IOException e) {
            return false;
        }
    }

    /** What opens a link on a system with these variables of the process; nothing without a screen to show it. */
    private static List<String> opener(String system, Map<String, String> environment) {
        String lower = system.toLowerCase(Locale.ROOT);
        if (lower.contains("mac")) {
            return List.of("open");
        }
        if (lower.contains("windows")) {
            return List.of("rundll32", "url.dll,FileProtocolHandler");
        }
        boolean screen = !environment.getOrDefault("DISPLAY", "").isEmpty()
                || !environment.getOrDefault("WAYLAND_DISPLAY", "").isEmpty();
        return screen ? List.of("xdg-open") : List.of();
    }
}
