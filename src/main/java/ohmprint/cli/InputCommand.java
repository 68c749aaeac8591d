package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import ohmprint.app.BadInputException;
import ohmprint.app.input.InputOutcome;
import ohmprint.app.input.InputOutcome.ParallelInput;
import ohmprint.app.input.MeasureInput;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.json.MeasurementJson;
import ohmprint.text.Numbers;
import ohmprint.text.Rounded;

/** {@code input}: the input impedance of a preamplifier. */
final class InputCommand extends Command {
    /** Its name. */
    static final String NAME = "input";

    /** What it is for. */
    static final String HEADER = "Input impedance of a preamplifier from takes through resistors in series.";

    InputCommand() {
        super(
                NAME,
                HEADER,
                MeasureCommand.usage(
                        "Measures the input that recordings are made through, with the equations of measure: one"
                                + " generator, the same sound in all takes, a known resistor between generator and input"
                                + " in each. The manifest has preamplifier, generator and takes with series_ohm. The"
                                + " curve.csv that is written serves as input: {curve: curve.csv} of any session.",
                        Usage.example("input bench-preamp-2 --to 18000") + MeasureCommand.EXIT_CODES + """

                                Before you connect anything:
                                  Phantom power off and discharged: it would drive current through the resistors into
                                  the generator. Turn the gain down, and start with the generator at its lowest level.
                                  Local codes and licensed practice come first."""));
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        MeasureRequest request = MeasureCommand.request(given);
        InputOutcome outcome = console.withProgress(progress -> MeasureInput.run(request, progress));
        console.tell(outcome.measured().measurement().findings());
        if (given.has(Parameter.JSON)) {
            MeasurementJson.outcome(outcome).print(console.out());
        } else {
            MeasureCommand.Report.summary(outcome.measured(), console);
            print(outcome, console);
        }
        return MeasureCommand.Report.code(outcome.measured());
    }

    /** The resistance and capacitance that describe the input, and how to use the result. */
    private static void print(InputOutcome outcome, Console console) {
        Path folder = outcome.measured().folder();
        ParallelInput p = outcome.parallel();
        if (folder == null) {
            return;
        }
        console.line();
        if (p != null && p.describes()) {
            Rounded ohm = Rounded.of(p.ohm(), p.ohmU95());
            Rounded pf = Rounded.of(p.pf(), p.pfU95());
            console.line(
                    "in parallel",
                    ohm.value() + " ± " + ohm.uncertainty() + " Ω, " + pf.value() + " ± " + pf.uncertainty()
                            + " pF (95 %)");
        } else if (p != null) {
            console.line(
                    "in parallel",
                    String.format(
                            Locale.ROOT,
                            "no resistance and capacitance describe it: the curve is up to %.1f %% off (%s); use the"
                                    + " curve itself",
                            p.largestMisfitPercent(),
                            Numbers.frequency(p.worstHz())));
        }
        console.line(
                "use it",
                "copy " + folder.resolve("curve.csv") + " into a session, and write input: {curve: curve.csv}");
    }
}
