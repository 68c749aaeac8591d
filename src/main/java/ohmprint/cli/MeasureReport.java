package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.MeasureOutcome;
import picocli.CommandLine.ParseResult;

/** What {@code measure} and {@code demo} print. */
final class MeasureReport {
    private MeasureReport() {}

    /** Does the work, prints findings and the outcome, and returns the exit code. */
    static int of(ParseResult given, Console console, Console.Work<MeasureOutcome> work)
            throws BadInputException, IOException {
        MeasureOutcome outcome = console.withProgress(work);
        console.tell(outcome.measurement().findings());
        if (given.hasMatchedOption("--json")) {
            OutcomeJson.print(outcome, console.out());
        } else {
            Summary.print(outcome, console.out());
        }
        return outcome.folder() == null ? ExitCode.NO_CURVE : ExitCode.DONE;
    }
}
