package ohmprint.cli;

import java.util.List;
import picocli.CommandLine;
import picocli.CommandLine.Help;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/**
 * The command line as a whole. Only a command whose word is among the arguments is declared in full; of the others the
 * name and the header are enough, and all their options would cost time at every start.
 */
final class Grammar {
    private static final int WIDTH = 96;

    static {
        // Options take their values as text. Converters to dates and to tables of a database would only load both.
        System.setProperty("picocli.converters.excludes", "java\\.(sql|time)\\..*");
    }

    private Grammar() {}

    /** A parser for the given arguments. */
    static CommandLine of(List<Command> commands, List<String> args) {
        CommandLine top = new CommandLine(top(), PlainFactory.INSTANCE);
        add(top, commands, args);
        top.setExpandAtFiles(false);
        top.setColorScheme(Help.defaultColorScheme(Help.Ansi.OFF));
        top.setUsageHelpWidth(WIDTH);
        return top;
    }

    private static void add(CommandLine above, List<Command> commands, List<String> args) {
        for (Command command : commands) {
            boolean called = args.contains(command.name());
            CommandSpec spec = called ? command.grammar() : CommandText.command(command.name());
            spec.usageMessage().header(command.header());
            CommandLine line = new CommandLine(spec, PlainFactory.INSTANCE);
            if (called) {
                add(line, command.below(), args);
            }
            above.addSubcommand(command.name(), line);
        }
    }

    private static CommandSpec top() {
        CommandSpec spec = CommandText.command("ohmprint")
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
                        """ + CommandText.CAUTIONS);
        return spec;
    }
}
