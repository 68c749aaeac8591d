package ohmprint.cli;

import java.io.IOException;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.library.ReadLibrary;
import ohmprint.library.EntryList;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library list}: what the library holds. */
record LibraryListCommand() implements Command {
    /** Its name. */
    static final String NAME = "list";

    private static final int USUAL = 100;

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "List what the library holds.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addOption(LibraryOption.library());
        LibraryOption.addQuery(spec);
        spec.addOption(LibraryOption.limit(USUAL, "; with --json all"))
                .addOption(CommandText.flag("--specifications", "The names of the specifications instead."))
                .addOption(CommandText.flag("--json", "Print a JSON list to standard output instead of the table."));
        spec.usageMessage()
                .header(header())
                .description("Lists measurements, newest first.")
                .footer("""

                        Example:
                          ohmprint library list --transducer ribbon --since 2026-01-01
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        boolean json = options.has("--json");
        if (options.has("--specifications")) {
            List<String> names = ReadLibrary.specifications(LibraryOption.place(options));
            if (json) {
                LibraryJson.print(console.out(), g -> {
                    g.writeStartArray();
                    for (String name : names) {
                        g.writeString(name);
                    }
                    g.writeEndArray();
                });
            } else {
                names.forEach(name -> console.out().println(OneLine.of(name)));
            }
            return ExitCode.DONE;
        }
        EntryList list = ReadLibrary.list(
                LibraryOption.place(options),
                LibraryOption.query(options, List.of()),
                LibraryOption.limit(options, json ? Integer.MAX_VALUE : USUAL));
        if (json) {
            LibraryJson.print(console.out(), g -> LibraryJson.list(g, list.entries()));
        } else {
            LibraryTable.print(list, console.out());
        }
        return ExitCode.DONE;
    }
}
