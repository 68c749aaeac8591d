package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.library.KeepLibrary;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library backup}: a copy of everything. */
record LibraryBackupCommand() implements Command {
    /** Its name. */
    static final String NAME = "backup";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Copy everything into a new library file.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addPositional(CommandText.argument(0, "FILE", "The new file.")).addOption(LibraryOption.library());
        spec.usageMessage()
                .header(header())
                .description(
                        "Copies a library of either kind, as it is at one moment while others go on working, into a new file, whole or not at all. The file is a library itself.")
                .footer("""

                        Example:
                          ohmprint library backup 2026-03-01.db
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        Path file = Options.path("FILE", options.argument(0), "the path of a new file");
        KeepLibrary.backUp(LibraryOption.place(options), file);
        console.out().println(OneLine.of(file.toString()));
        return ExitCode.DONE;
    }
}
