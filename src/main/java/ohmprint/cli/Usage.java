package ohmprint.cli;

import java.util.List;

/**
 * How a command is called, and what its help says. In the texts two percent signs stand for one.
 *
 * @param description what it does
 * @param footer what stands below the options: an example, exit codes, cautions
 * @param parameters options and arguments, in the order in which the help lists them
 */
record Usage(String description, String footer, List<Parameter<?>> parameters) {
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

    Usage(String description, String footer, Parameter<?>... parameters) {
        this(description, footer, List.of(parameters));
    }

    /** The part of a footer with example calls, given without the name of the program. */
    static String example(String... calls) {
        return "\nExample:\n  ohmprint " + String.join("\n  ohmprint ", calls) + "\n";
    }
}
