package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.library.KeepLibrary;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library create}: an empty library. */
record LibraryCreateCommand() implements Command {
    /** Its name. */
    static final String NAME = "create";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Make an empty library.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addOption(LibraryOption.library());
        spec.usageMessage()
                .header(header())
                .description(
                        "Makes the file, or the tables in a database. A library that is there is left as it is, and brought up to date if an older program made it.")
                .footer("""

                        Example:
                          PGUSER=owner ohmprint library create --library jdbc:postgresql://db.workshop.example/curves
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        int count = KeepLibrary.create(LibraryOption.place(options));
        console.out().println("ready, " + count + " measurements");
        return ExitCode.DONE;
    }
}
