package ohmprint.cli;

import picocli.CommandLine;
import picocli.CommandLine.Help;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/**
 * Commands, options and their help. Declared without annotations: reading those takes time at every start. All values
 * are taken as text; {@link MeasureOptions} and {@link PlanOptions} read them, so that objections are in our words.
 */
final class Grammar {
    /** Name of the command that shows a complete measurement. */
    static final String DEMO = "demo";

    /** Name of the command that measures a session. */
    static final String MEASURE = "measure";

    /** Name of the command that chooses the loads of a session. */
    static final String PLAN = "plan";

    private static final int WIDTH = 96;

    private static final String EXIT_CODES = """

            Exit codes:
              0  done
              1  a fault of the program
              2  bad input or usage; nothing is written
              3  the evidence does not support a curve; nothing is written (with --force a result is
                 written, marked unusable, and the exit code is 0)
            """;

    private static final String PLAN_EXIT_CODES = """

            Exit codes:
              0  done
              1  a fault of the program
              2  bad input or usage
            """;

    private static final String CAUTIONS = """

            Before you connect anything:
              Phantom power off and discharged before a load, a patch or a ribbon is connected. Loads go
              across pins 2 and 3, never to pin 1. A passive ribbon can be destroyed.
              No ohmmeter on a ribbon or its transformer; do not blow on a ribbon.
              Sweeps are loud: keep levels and times down, protect your hearing.
              Valve supplies and mains equipment are for qualified people; capacitors stay charged.
              Local codes and licensed practice come first.""";

    private Grammar() {}

    /** A parser for the whole command line. */
    static CommandLine create() {
        CommandLine top = new CommandLine(top());
        top.addSubcommand(DEMO, new CommandLine(demo()));
        top.addSubcommand(MEASURE, new CommandLine(measure()));
        top.addSubcommand(PLAN, new CommandLine(plan()));
        top.setExpandAtFiles(false);
        top.setColorScheme(Help.defaultColorScheme(Help.Ansi.OFF));
        top.setUsageHelpWidth(WIDTH);
        return top;
    }

    private static CommandSpec top() {
        CommandSpec spec = command("ohmprint")
                .addOption(OptionSpec.builder("-V", "--version")
                        .versionHelp(true)
                        .description("Print the version.")
                        .build());
        spec.usageMessage()
                .description(
                        "Recovers the output impedance of a microphone against frequency from recordings of the same"
                                + " sound through two or more known load resistors.")
                .footer("""

                        Example, no hardware needed:
                          ohmprint demo

                        ohmprint COMMAND --help tells more about a command.
                        """ + CAUTIONS);
        return spec;
    }

    private static CommandSpec demo() {
        CommandSpec spec = command(DEMO)
                .addOption(value(
                        "--out",
                        "DIR",
                        "New or empty folder for session and results"
                                + " (default: ohmprint-demo here, or the next free name such as ohmprint-demo-2)."))
                .addOption(json());
        spec.usageMessage()
                .header("A complete measurement, no hardware needed.")
                .description("Unpacks a session that comes with the program and measures it: takes and manifest go to"
                        + " DIR/session, curve and pictures to DIR/result.")
                .footer("""

                        Example:
                          ohmprint demo --out first-look
                        """ + CAUTIONS);
        return spec;
    }

    private static CommandSpec measure() {
        CommandSpec spec = command(MEASURE)
                .addPositional(PositionalParamSpec.builder()
                        .index("0")
                        .paramLabel("SESSION")
                        .type(String.class)
                        .required(true)
                        .description("Folder with session.yaml and the takes, or that session.yaml.")
                        .build())
                .addOption(value("--out", "DIR", "Folder for the results (default: SESSION/result)."))
                .addOption(value(
                        "--bands", "N", "Bands per octave: 1, 3, 6, 12 or 24 (default: 12, or 3 on the power route)."))
                .addOption(value(
                        "--route",
                        "ROUTE",
                        "What the takes are compared with: auto, stimulus, reference, common"
                                + " or power (default: auto, the evidence decides)."))
                .addOption(value("--from", "HZ", "Lowest midband in hertz (default: 20)."))
                .addOption(value("--to", "HZ", "Highest midband in hertz (default: 20000)."))
                .addOption(OptionSpec.builder("--force")
                        .description("Write a result even if the evidence does not support it.")
                        .build())
                .addOption(json());
        spec.usageMessage()
                .header("Source impedance against frequency from a folder of takes.")
                .description("Measures a session: magnitude and phase with their 95 %% uncertainty, as"
                        + " table, JSON, Touchstone and pictures. Results are complete or not there at all. The summary"
                        + " goes to standard output, findings about the takes to standard error.")
                .footer("""

                        Example:
                          ohmprint measure bench-ribbon-7 --bands 12 --from 30 --to 18000
                        """ + EXIT_CODES + CAUTIONS);
        return spec;
    }

    private static CommandSpec plan() {
        CommandSpec spec = command(PLAN)
                .addOption(value("--impedance", "OHM", "Expected impedance in ohms, the same at all frequencies."))
                .addOption(value(
                        "--transducer",
                        "TYPE",
                        "Instead: a usual microphone of this type, moving-coil, ribbon or condenser."))
                .addOption(value(
                        "--curve",
                        "FILE",
                        "Instead: a curve that was measured, a curve.json or the folder that holds it."))
                .addOption(value("--input", "OHM", "Resistance of the recording input in ohms; required."))
                .addOption(value("--input-tolerance", "PERCENT", "Its tolerance (default: 5)."))
                .addOption(value("--input-pf", "PF", "Its capacitance with the cable in picofarads (default: 0)."))
                .addOption(value("--from", "HZ", "Lowest midband in hertz (default: 20, or that of the curve)."))
                .addOption(value("--to", "HZ", "Highest midband in hertz (default: 20000, or that of the curve)."))
                .addOption(value(
                        "--drift",
                        "PERCENT",
                        "Standard uncertainty of the level from take to take (default: 0.05, as measure assumes)."))
                .addOption(value("--tolerance", "PERCENT", "Tolerance of the resistors (default: 1)."))
                .addOption(value(
                        "--snr",
                        "DB",
                        "Signal over noise of a take without a resistor, as snr_db of a result (default: 40)."))
                .addOption(value("--seconds", "S", "Length of the sweep in seconds (default: 10)."))
                .addOption(value("--series", "SERIES", "Resistors to choose from: E12, E24 or E96 (default: E12)."))
                .addOption(value(
                        "--stock", "OHM,OHM,...", "Instead: the resistors in the drawer, for example 100,220,470."))
                .addOption(value(
                        "--minimum-load",
                        "OHM",
                        "Smallest load that the maker allows: warns below, and shows sets that keep to it."))
                .addOption(value(
                        "--wanted", "PERCENT", "Wanted 95 %% uncertainty: tells the length of sweep that reaches it."))
                .addOption(json());
        spec.usageMessage()
                .header("Which resistors to use, before a session is recorded.")
                .description("Chooses two, three and four loads, open (no resistor) among them, that give the lowest"
                        + " predicted 95 %% uncertainty of |Z| in the worst twelfth octave, with the order of the takes"
                        + " (the first load once more at the end) and what a change would give. Sets are printed best"
                        + " first. The prediction uses the equations of measure; noise counts as equal in all takes.")
                .footer("""

                        Example:
                          ohmprint plan --impedance 300 --input 3000 --stock 100,220,470 --wanted 2
                        """ + PLAN_EXIT_CODES + CAUTIONS);
        return spec;
    }

    private static CommandSpec command(String name) {
        CommandSpec spec = CommandSpec.create().name(name);
        spec.usageMessage().sortOptions(false).abbreviateSynopsis(false);
        return spec.addOption(OptionSpec.builder("-h", "--help")
                .usageHelp(true)
                .description("Print this help.")
                .build());
    }

    private static OptionSpec value(String name, String label, String description) {
        return OptionSpec.builder(name)
                .paramLabel(label)
                .type(String.class)
                .description(description)
                .build();
    }

    private static OptionSpec json() {
        return OptionSpec.builder("--json")
                .description("Print one JSON object to standard output instead of the summary.")
                .build();
    }
}
