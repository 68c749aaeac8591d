package ohmprint.cli;

import picocli.CommandLine;
import picocli.CommandLine.Help;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/**
 * Commands, options and their help. Declared without annotations: reading those takes time at every start. All values
 * are taken as text; {@link MeasureOptions} reads them, so that objections are in our words.
 */
final class Grammar {
    /** Name of the command that shows a complete measurement. */
    static final String DEMO = "demo";

    /** Name of the command that measures a session. */
    static final String MEASURE = "measure";

    private static final int WIDTH = 96;

    private static final String EXIT_CODES = """

            Exit codes:
              0  done
              1  a fault of the program
              2  bad input or usage; nothing is written
              3  the evidence does not support a curve; nothing is written (with --force a result is
                 written, marked unusable, and the exit code is 0)
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
