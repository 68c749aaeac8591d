package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.MeasureOutcome;
import ohmprint.app.MeasureRequest;
import ohmprint.app.MeasureSession;
import ohmprint.app.Progress;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * {@code measure}: a session becomes a curve.
 *
 * @param useCase what measures, {@link MeasureSession#run}
 */
record MeasureCommand(Measuring useCase) implements Command {
    /** Its name. */
    static final String NAME = "measure";

    private static final String EXIT_CODES = """

            Exit codes:
              0  done
              1  a fault of the program
              2  bad input or usage; nothing is written
              3  the evidence does not support a curve; nothing is written (with --force a result is
                 written, marked unusable, and the exit code is 0)
            """;

    /** Measures a session. */
    @FunctionalInterface
    interface Measuring {
        /** See {@link MeasureSession#run}. */
        MeasureOutcome run(MeasureRequest request, Progress progress) throws BadInputException, IOException;
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Source impedance against frequency from a folder of takes.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addPositional(CommandText.argument(
                        0, "SESSION", "Folder with session.yaml and the takes, or that session.yaml."))
                .addOption(CommandText.value("--out", "DIR", "Folder for the results (default: SESSION/result)."))
                .addOption(CommandText.value(
                        "--bands", "N", "Bands per octave: 1, 3, 6, 12 or 24 (default: 12, or 3 on the power route)."))
                .addOption(CommandText.value(
                        "--route",
                        "ROUTE",
                        "What the takes are compared with: auto, stimulus, reference, common"
                                + " or power (default: auto, the evidence decides)."))
                .addOption(CommandText.value("--from", "HZ", "Lowest midband in hertz (default: 20)."))
                .addOption(CommandText.value("--to", "HZ", "Highest midband in hertz (default: 20000)."))
                .addOption(CommandText.flag("--force", "Write a result even if the evidence does not support it."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description("Measures a session: magnitude and phase with their 95 %% uncertainty, as"
                        + " table, JSON, Touchstone and pictures. Results are complete or not there at all. The summary"
                        + " goes to standard output, findings about the takes to standard error.")
                .footer("""

                        Example:
                          ohmprint measure bench-ribbon-7 --bands 12 --from 30 --to 18000
                        """ + EXIT_CODES + CommandText.CAUTIONS);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        MeasureRequest request = MeasureOptions.request(given);
        return MeasureReport.of(given, console, progress -> useCase.run(request, progress));
    }
}
