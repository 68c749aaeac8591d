package ohmprint.cli;

import java.io.IOException;
import java.util.List;
import ohmprint.app.BadInputException;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * One command: how it is written and what it does. A new command is a class of this kind in the list of {@link
 * Commands}.
 */
interface Command {
    /** The word that calls it. */
    String name();

    /** What it is for, in one line. */
    String header();

    /** Its options, arguments and help; built only when the command is called or asked about. */
    CommandSpec grammar();

    /** Commands below this one, as in {@code ohmprint library add}; none for most. */
    default List<Command> below() {
        return List.of();
    }

    /**
     * Does it.
     *
     * @param given the options and arguments
     * @param console where to print
     * @return the exit code
     * @throws UsageException if an option holds what it cannot hold
     * @throws BadInputException if what the user handed over cannot be used
     * @throws IOException if a file cannot be read or written
     */
    int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException;
}
