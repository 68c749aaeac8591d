package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.LoadPlan;
import ohmprint.app.PlanLoads;
import ohmprint.app.PlanRequest;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * {@code plan}: the loads of a session are chosen.
 *
 * @param useCase what chooses them, {@link PlanLoads#run}
 */
record PlanCommand(Planning useCase) implements Command {
    /** Its name. */
    static final String NAME = "plan";

    /** Plans a session. */
    @FunctionalInterface
    interface Planning {
        /** See {@link PlanLoads#run}. */
        LoadPlan run(PlanRequest request) throws BadInputException, IOException;
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Which resistors to use, before a session is recorded.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addOption(CommandText.value(
                        "--impedance", "OHM", "Expected impedance in ohms, the same at all frequencies."))
                .addOption(CommandText.value(
                        "--transducer",
                        "TYPE",
                        "Instead: a usual microphone of this type, moving-coil, ribbon or condenser."))
                .addOption(CommandText.value(
                        "--curve",
                        "FILE",
                        "Instead: a curve that was measured, a curve.json or the folder that holds it."))
                .addOption(CommandText.value("--input", "OHM", "Resistance of the recording input in ohms; required."))
                .addOption(CommandText.value("--input-tolerance", "PERCENT", "Its tolerance (default: 5)."))
                .addOption(CommandText.value(
                        "--input-pf", "PF", "Its capacitance with the cable in picofarads (default: 0)."))
                .addOption(CommandText.value(
                        "--from", "HZ", "Lowest midband in hertz (default: 20, or that of the curve)."))
                .addOption(CommandText.value(
                        "--to", "HZ", "Highest midband in hertz (default: 20000, or that of the curve)."))
                .addOption(CommandText.value(
                        "--drift",
                        "PERCENT",
                        "Standard uncertainty of the level from take to take (default: 0.05, as measure assumes)."))
                .addOption(CommandText.value("--tolerance", "PERCENT", "Tolerance of the resistors (default: 1)."))
                .addOption(CommandText.value(
                        "--snr",
                        "DB",
                        "Signal over noise of a take without a resistor, as snr_db of a result (default: 40)."))
                .addOption(CommandText.value("--seconds", "S", "Length of the sweep in seconds (default: 10)."))
                .addOption(CommandText.value(
                        "--series", "SERIES", "Resistors to choose from: E12, E24 or E96 (default: E12)."))
                .addOption(CommandText.value(
                        "--stock", "OHM,OHM,...", "Instead: the resistors in the drawer, for example 100,220,470."))
                .addOption(CommandText.value(
                        "--minimum-load", "OHM", "Smallest load that the maker allows: lower ones are left out."))
                .addOption(CommandText.value(
                        "--wanted", "PERCENT", "Wanted 95 %% uncertainty: tells the length of sweep that reaches it."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description("Chooses two, three and four loads, open (no resistor) among them, that give the lowest"
                        + " predicted 95 %% uncertainty of |Z| in the worst twelfth octave, with the order of the takes"
                        + " (the first load once more at the end) and what a change would give. Sets are printed best"
                        + " first. The prediction uses the equations of measure; noise counts as equal in all takes.")
                .footer("""

                        Example:
                          ohmprint plan --impedance 300 --input 3000 --stock 100,220,470 --wanted 2
                        """ + CommandText.EXIT_CODES + CommandText.CAUTIONS);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        LoadPlan plan = useCase.run(PlanOptions.request(given));
        console.tell(plan.sets().stream()
                .flatMap(set -> set.findings().stream())
                .distinct()
                .toList());
        if (given.hasMatchedOption("--json")) {
            PlanJson.print(plan, console.out());
        } else {
            PlanSummary.print(plan, console.out());
        }
        return ExitCode.DONE;
    }
}
