package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ServiceLoader;
import java.util.concurrent.CountDownLatch;
import ohmprint.app.BadInputException;
import ohmprint.app.workspace.Bench;
import ohmprint.app.workspace.PageDoor;
import ohmprint.cli.Options.Range;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code bench}: a page in the browser for a folder of sessions. */
record BenchCommand() implements Command {
    /** Its name. */
    static final String NAME = "bench";

    private static final int HIGHEST_PORT = 65_535;

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "The bench as a page in your browser.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addOption(CommandText.value(
                        "--workspace", "DIR", "Folder that holds your sessions (default: the current folder)."))
                .addOption(
                        CommandText.value(
                                "--library",
                                "FILE|URL",
                                "The library: a file, or jdbc:postgresql://HOST/DATABASE (default: library.db in the workspace)."))
                .addOption(CommandText.value(
                        "--port", "N", "Port at the loopback address; 0 takes any free one (default: 0)."))
                .addOption(CommandText.flag("--no-open", "Print the link only, do not open the browser."));
        spec.usageMessage()
                .header(header())
                .description(
                        "Serves a page to this computer alone, until it is stopped with Ctrl-C. The link on standard"
                                + " output admits a browser; give it to nobody: who has it can do what you can. What the page"
                                + " makes are the sessions, results and library that the other commands work with.")
                .footer("""

                        Example:
                          ohmprint bench --workspace sessions
                        """ + CommandText.EXIT_CODES + CommandText.CAUTIONS);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        Path asked = options.path("--workspace", "the path of a folder");
        Path folder = asked == null ? console.around().folder() : asked;
        Bench bench = Bench.open(folder, options.text("--library"));
        PageDoor.Page page = door().open(bench, port(options));
        CountDownLatch ended = new CountDownLatch(1);
        Runtime.getRuntime().addShutdownHook(new Thread(() -> {
            page.close();
            bench.close();
            ended.countDown();
        }));
        console.out().println(page.link());
        console.out().flush();
        console.err()
                .println("ohmprint: the bench is open for "
                        + folder.toAbsolutePath().normalize() + "; Ctrl-C ends it");
        console.err().flush();
        if (!options.has("--no-open") && !Browser.open(page.linkForOnce())) {
            console.err().println("ohmprint: no browser was found to open it; open the link above");
            console.err().flush();
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

    private static PageDoor door() {
        return ServiceLoader.load(PageDoor.class)
                .findFirst()
                .orElseThrow(() -> new IllegalStateException("the program does not hold its page"));
    }

    private static int port(Options options) throws UsageException {
        Double port = options.number("--port", new Range("", 0, HIGHEST_PORT, "8080"));
        if (port != null && port != Math.rint(port)) {
            throw new UsageException("--port is " + options.text("--port") + "; give a whole number");
        }
        return port == null ? 0 : port.intValue();
    }
}
