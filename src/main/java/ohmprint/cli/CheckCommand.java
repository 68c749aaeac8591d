package ohmprint.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.check.CheckOutcome;
import ohmprint.app.check.CheckRequest;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * {@code check}: does a curve meet a specification?
 *
 * @param useCase what decides, {@link ohmprint.app.check.CheckCurve#run}
 */
record CheckCommand(Checking useCase) implements Command {
    /** Its name. */
    static final String NAME = "check";

    private static final String EXIT_CODES = """

            Exit codes:
              0  within the specification
              1  a fault of the program
              2  bad input or usage; nothing is written
              4  outside the specification
              5  undecided: the uncertainty, or what was not measured, leaves it open
            """;

    /** Checks a curve. */
    @FunctionalInterface
    interface Checking {
        /** See {@link ohmprint.app.check.CheckCurve#run}. */
        CheckOutcome run(CheckRequest request) throws BadInputException, IOException;
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Whether a curve meets a specification, beyond its uncertainty.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addPositional(CommandText.argument(
                        0, "CURVE", "A curve.json, the folder of a result, or the folder of a measured session."))
                .addOption(CommandText.value(
                        "--spec",
                        "FILE",
                        "The specification, a YAML file: rated impedance, mask, resonance,"
                                + " reference curve; required."))
                .addOption(CommandText.value(
                        "--out", "DIR", "Folder for the verdict and a picture with the limits (default: none)."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description("Compares |Z| with the limits of a specification. Within is what lies inside by its 95 %%"
                        + " uncertainty in every band; outside is what lies beyond a limit by more than chance would"
                        + " bring in any band, at most once in forty curves that lie on it; the rest is undecided.")
                .footer("""

                        A specification:
                          version: 1
                          rated_impedance: {ohm: 300, tolerance_percent: 20, at_hz: 1000}
                          mask: [{from_hz: 200, to_hz: 10000, min_ohm: 200, max_ohm: 400}]

                        Example:
                          ohmprint check bench-ribbon-7 --spec ribbon-300.yaml --out bench-ribbon-7/check
                        """ + EXIT_CODES + CommandText.CAUTIONS);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        Path specification = options.path("--spec", "the YAML file of a specification");
        if (specification == null) {
            throw new UsageException(
                    "--spec is missing; give the YAML file of a specification, for example --spec ribbon-300.yaml");
        }
        CheckOutcome outcome = useCase.run(
                new CheckRequest(options.argument(0), specification, options.path("--out", "the path of a folder")));
        outcome.notes().forEach(note -> console.err().println(OneLine.of("note: " + note)));
        console.tell(outcome.findings());
        PrintWriter out = console.out();
        if (options.has("--json")) {
            out.println(outcome.json());
        } else {
            CheckSummary.print(outcome, out);
        }
        return switch (outcome.verdict()) {
            case "within" -> ExitCode.DONE;
            case "outside" -> ExitCode.OUTSIDE;
            default -> ExitCode.UNDECIDED;
        };
    }
}
