package ohmprint.cli;

import java.io.IOException;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;

/**
 * One command: how it is written and what it does. Its parameters are constants of its class, so that grammar, help and
 * the code that reads them name the same object. A new command is a class of this kind in the list of {@link Commands}.
 */
abstract class Command {
    private final String name;
    private final String header;
    private final Usage usage;

    /**
     * A command.
     *
     * @param name the word that calls it
     * @param header what it is for, in one line
     * @param usage its parameters and help
     */
    Command(String name, String header, Usage usage) {
        this.name = name;
        this.header = header;
        this.usage = usage;
    }

    /** The word that calls it. */
    final String name() {
        return name;
    }

    /** What it is for, in one line. */
    final String header() {
        return header;
    }

    /** Its parameters and help. */
    final Usage usage() {
        return usage;
    }

    /** Commands below this one, as in {@code ohmprint library add}; none for most. */
    List<Command> below() {
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
    abstract int run(Options given, Console console) throws BadInputException, UsageException, IOException;

    /** What does the work of a command. */
    @FunctionalInterface
    interface UseCase<Q, A> {
        /** Answers a request, telling how far it is. */
        A run(Q request, Progress progress) throws BadInputException, IOException;
    }
}
