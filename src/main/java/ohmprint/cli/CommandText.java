package ohmprint.cli;

import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/**
 * The parts that help texts and grammars of commands are made of. Options take their values as text, so that objections
 * are in our words; they are declared without annotations, because reading those takes time at every start.
 */
final class CommandText {
    /** The cautions that end a help text. */
    static final String CAUTIONS = """

            Before you connect anything:
              Phantom power off and discharged before a load, a patch or a ribbon is connected. Loads go
              across pins 2 and 3, never to pin 1. A passive ribbon can be destroyed.
              No ohmmeter on a ribbon or its transformer; do not blow on a ribbon.
              Sweeps are loud: keep levels and times down, protect your hearing.
              Valve supplies and mains equipment are for qualified people; capacitors stay charged.
              Local codes and licensed practice come first.""";

    /** Exit codes of a command that has no others. */
    static final String EXIT_CODES = """

            Exit codes:
              0  done
              1  a fault of the program
              2  bad input or usage
            """;

    private CommandText() {}

    /** A command with {@code --help}; options are listed in the order in which they are added. */
    static CommandSpec command(String name) {
        CommandSpec spec =
                CommandSpec.wrapWithoutInspection(null, PlainFactory.INSTANCE).name(name);
        spec.usageMessage().sortOptions(false).abbreviateSynopsis(false);
        return spec.addOption(OptionSpec.builder("-h", "--help")
                .usageHelp(true)
                .description("Print this help.")
                .build());
    }

    /** An option with a value, given at most once. */
    static OptionSpec value(String name, String label, String description) {
        return OptionSpec.builder(name)
                .paramLabel(label)
                .type(String.class)
                .description(description)
                .build();
    }

    /** An option with a value that may be given several times; read with {@link Options#texts}. */
    static OptionSpec values(String name, String label, String description) {
        return OptionSpec.builder(name)
                .paramLabel(label)
                .type(String[].class)
                .arity("1")
                .description(description)
                .build();
    }

    /** An option without a value. */
    static OptionSpec flag(String name, String description) {
        return OptionSpec.builder(name).description(description).build();
    }

    /** {@code --json}, as every command spells it. */
    static OptionSpec json() {
        return flag("--json", "Print one JSON object to standard output instead of the summary.");
    }

    /** Any number of arguments, at least one when required; read with {@link Options#arguments}. */
    static PositionalParamSpec arguments(String label, boolean required, String description) {
        return PositionalParamSpec.builder()
                .index("0..*")
                .arity(required ? "1..*" : "0..*")
                .paramLabel(label)
                .type(String[].class)
                .required(required)
                .description(description)
                .build();
    }

    /** The required argument at a place, counted from 0. */
    static PositionalParamSpec argument(int place, String label, String description) {
        return PositionalParamSpec.builder()
                .index(Integer.toString(place))
                .paramLabel(label)
                .type(String.class)
                .required(true)
                .description(description)
                .build();
    }
}
