package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.MeasureOutcome;
import ohmprint.app.MeasureRequest;
import ohmprint.app.MeasureSession;
import ohmprint.app.Progress;
import ohmprint.app.ResultFolder;
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

    /** Exit codes of commands that measure. */
    static final String EXIT_CODES = """

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
        CommandSpec spec = MeasureOptions.declared(CommandText.command(NAME)
                .addPositional(CommandText.argument(
                        0, "SESSION", "Folder with session.yaml and the takes, or that session.yaml.")));
        spec.usageMessage()
                .header(header())
                .description("Measures a session: magnitude and phase with their 95 %% uncertainty, as "
                        + ResultFolder.contents() + ". Results are complete or not there at all. The summary"
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
