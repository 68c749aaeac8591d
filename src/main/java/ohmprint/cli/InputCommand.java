package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.MeasureRequest;
import ohmprint.app.Progress;
import ohmprint.app.input.InputOutcome;
import ohmprint.app.input.MeasureInput;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * {@code input}: the input impedance of a preamplifier.
 *
 * @param useCase what measures, {@link MeasureInput#run}
 */
record InputCommand(Measuring useCase) implements Command {
    /** Its name. */
    static final String NAME = "input";

    /** Measures an input. */
    @FunctionalInterface
    interface Measuring {
        /** See {@link MeasureInput#run}. */
        InputOutcome run(MeasureRequest request, Progress progress) throws BadInputException, IOException;
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Input impedance of a preamplifier from takes through resistors in series.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = MeasureOptions.declared(CommandText.command(NAME)
                .addPositional(CommandText.argument(
                        0, "SESSION", "Folder with session.yaml and the takes, or that session.yaml.")));
        spec.usageMessage()
                .header(header())
                .description("Measures the input that recordings are made through, with the equations of measure: one"
                        + " generator, the same sound in all takes, a known resistor between generator and input in each."
                        + " The manifest has preamplifier, generator and takes with series_ohm. The curve.csv that is"
                        + " written serves as input: {curve: curve.csv} of any session.")
                .footer("""

                        Example:
                          ohmprint input bench-preamp-2 --to 18000
                        """ + MeasureCommand.EXIT_CODES + """

                        Before you connect anything:
                          Phantom power off and discharged: it would drive current through the resistors into
                          the generator. Turn the gain down, and start with the generator at its lowest level.
                          Local codes and licensed practice come first.""");
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        MeasureRequest request = MeasureOptions.request(given);
        InputOutcome outcome = console.withProgress(progress -> useCase.run(request, progress));
        console.tell(outcome.measured().measurement().findings());
        if (given.hasMatchedOption("--json")) {
            OutcomeJson.print(outcome.measured(), InputReport.fields(outcome), console.out());
        } else {
            Summary.print(outcome.measured(), console.out());
            InputReport.print(outcome, console.out());
        }
        return outcome.measured().folder() == null ? ExitCode.NO_CURVE : ExitCode.DONE;
    }
}
