package ohmprint.cli;

import java.util.List;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library}: the collection of measurements, by the commands below it. */
record LibraryCommand() implements Command {
    /** Its name. */
    static final String NAME = "library";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Keep measurements, find and compare them.";
    }

    @Override
    public List<Command> below() {
        return List.of(
                new LibraryAddCommand(),
                new LibraryListCommand(),
                new LibraryShowCommand(),
                new LibraryFindCommand(),
                new LibraryCompareCommand(),
                new LibrarySpreadCommand(),
                new LibraryExportCommand(),
                new LibraryImportCommand(),
                new LibraryBackupCommand(),
                new LibraryVerifyCommand(),
                new LibraryCreateCommand(),
                new LibrarySupersedeCommand(),
                new LibraryRepairCommand(),
                new LibraryRemoveCommand());
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.usageMessage()
                .header(header())
                .description("A library is one SQLite file, or a PostgreSQL database that a workshop shares. Which one:"
                        + " --library, else OHMPRINT_LIBRARY, else ohmprint/library.db in your folder for data"
                        + " (XDG_DATA_HOME or ~/.local/share). Wherever a command takes a curve, library:ID names one of"
                        + " the library.")
                .footer("""

                        Example:
                          ohmprint library add bench-ribbon-7/result
                          ohmprint library list
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) {
        throw new IllegalStateException("the commands below are run");
    }
}
