package ohmprint.cli;

import java.util.List;
import picocli.CommandLine;
import picocli.CommandLine.Help;
import picocli.CommandLine.IFactory;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/**
 * The command line as a whole, for the parser. Only a command whose word is among the arguments is declared in full; of
 * the others the name and the header are enough, and all their options would cost time at every start.
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
        CommandSpec spec = spec("ohmprint");
        spec.addOption(OptionSpec.builder("-V", "--version")
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
                        """ + Usage.CAUTIONS);
        CommandLine top = new CommandLine(spec, PlainFactory.INSTANCE);
        add(top, commands, args);
        top.setExpandAtFiles(false);
        top.setColorScheme(Help.defaultColorScheme(Help.Ansi.OFF));
        top.setUsageHelpWidth(WIDTH);
        return top;
    }

    private static void add(CommandLine above, List<Command> commands, List<String> args) {
        for (Command command : commands) {
            boolean called = args.contains(command.name());
            CommandSpec spec = spec(command.name());
            spec.usageMessage().header(command.header());
            if (called) {
                Usage usage = command.usage();
                usage.parameters().forEach(parameter -> parameter.addTo(spec));
                spec.usageMessage().description(usage.description()).footer(usage.footer());
            }
            CommandLine line = new CommandLine(spec, PlainFactory.INSTANCE);
            if (called) {
                add(line, command.below(), args);
            }
            above.addSubcommand(command.name(), line);
        }
    }

    /** A command with {@code --help}; options are listed in the order in which they are added. */
    private static CommandSpec spec(String name) {
        CommandSpec spec =
                CommandSpec.wrapWithoutInspection(null, PlainFactory.INSTANCE).name(name);
        spec.usageMessage().sortOptions(false).abbreviateSynopsis(false);
        return spec.addOption(OptionSpec.builder("-h", "--help")
                .usageHelp(true)
                .description("Print this help.")
                .build());
    }

    /**
     * Makes what the parser needs by its constructor without parameters. The parser's own factory looks through the whole
     * program for another language's closures first.
     */
    private enum PlainFactory implements IFactory {
        INSTANCE;

        @Override
        public <K> K create(Class<K> type) throws ReflectiveOperationException {
            return type.getDeclaredConstructor().newInstance();
        }
    }
}
