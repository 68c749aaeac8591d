package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.circuit.CircuitOutcome;
import ohmprint.app.circuit.CircuitRequest;
import ohmprint.app.circuit.FitCircuit;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * {@code circuit}: the electrical circuit behind a curve.
 *
 * @param useCase what finds it, {@link FitCircuit#run}
 */
record CircuitCommand(Fitting useCase) implements Command {
    /** Its name. */
    static final String NAME = "circuit";

    private static final List<String> FAMILIES = List.of("moving-coil", "ribbon", "capacitor-coupled");

    private static final String EXIT_CODES = """

            Exit codes:
              0  done
              1  a fault of the program
              2  bad input or usage; nothing is written
              3  no circuit follows the curve; nothing is written
            """;

    /** Finds a circuit. */
    @FunctionalInterface
    interface Fitting {
        /** See {@link FitCircuit#run}. */
        CircuitOutcome run(CircuitRequest request) throws BadInputException, IOException;
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "The electrical circuit behind a curve: resistance, inductance, resonance, and a SPICE subcircuit.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addPositional(CommandText.argument(
                        0, "CURVE", "A curve that was measured: a curve.json or the folder that holds it."))
                .addOption(CommandText.value("--out", "FILE.cir", "File for the subcircuit (default: none)."))
                .addOption(CommandText.value(
                        "--family",
                        "FAMILY",
                        "Only circuits of this kind: moving-coil, ribbon or capacitor-coupled (default: what fits)."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description(
                        "Fits the circuits that microphones have to a curve and states the one that the curve speaks"
                                + " for, each value with its 95 %% interval. A value that the curve does not fix is not stated."
                                + " The subcircuit has two pins and is made of resistors, inductors and capacitors.")
                .footer("""

                        Example:
                          ohmprint circuit bench-ribbon-7/result --out bench-ribbon-7.cir
                        """ + EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        Path out = options.path("--out", "the path of a file");
        CircuitOutcome outcome =
                useCase.run(new CircuitRequest(options.argument(0), options.word("--family", FAMILIES), out));
        if (options.has("--json")) {
            CircuitJson.print(outcome, console.out());
        } else {
            CircuitSummary.print(outcome, console.out());
        }
        outcome.notes().forEach(note -> console.err().println(OneLine.of(note)));
        return outcome.follows() ? ExitCode.DONE : ExitCode.NO_CURVE;
    }
}
