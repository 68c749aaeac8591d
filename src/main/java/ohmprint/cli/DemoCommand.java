package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.Demo;
import ohmprint.app.MeasureOutcome;
import ohmprint.app.Progress;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * {@code demo}: the session that comes with the program is measured.
 *
 * @param useCase what does it, {@link Demo#run}
 */
record DemoCommand(Showing useCase) implements Command {
    /** Its name. */
    static final String NAME = "demo";

    private static final String FOLDER = "ohmprint-demo";

    /** Measures the session that comes with the program. */
    @FunctionalInterface
    interface Showing {
        /** See {@link Demo#run}. */
        MeasureOutcome run(Path folder, Progress progress) throws BadInputException, IOException;
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "A complete measurement, no hardware needed.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addOption(CommandText.value(
                        "--out",
                        "DIR",
                        "New or empty folder for session and results"
                                + " (default: ohmprint-demo here, or the next free name such as ohmprint-demo-2)."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description("Unpacks a session that comes with the program and measures it: takes and manifest go to"
                        + " DIR/session, curve and pictures to DIR/result.")
                .footer("""

                        Example:
                          ohmprint demo --out first-look
                        """ + CommandText.CAUTIONS);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Path asked = Options.of(given).path("--out", "the path of a folder");
        Path folder = asked == null ? free(console.around().folder()) : asked;
        return MeasureReport.of(given, console, progress -> useCase.run(folder, progress));
    }

    private static Path free(Path here) {
        Path folder = here.resolve(FOLDER);
        for (int n = 2; Files.exists(folder, LinkOption.NOFOLLOW_LINKS); n++) {
            folder = here.resolve(FOLDER + "-" + n);
        }
        return folder;
    }
}
