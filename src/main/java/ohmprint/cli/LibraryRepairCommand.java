package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.library.KeepLibrary;
import ohmprint.app.library.LibraryPlace;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library repaired}: before and after a repair. */
record LibraryRepairCommand() implements Command {
    /** Its name. */
    static final String NAME = "repaired";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Link before and after a repair.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addPositional(CommandText.argument(0, "BEFORE", "The older measurement."))
                .addPositional(CommandText.argument(1, "AFTER", "The newer measurement."))
                .addOption(LibraryOption.library())
                .addOption(LibraryOption.operator())
                .addOption(CommandText.value("--note", "TEXT", "What was done."));
        spec.usageMessage()
                .header(header())
                .description("Both keep counting; show tells of the link.")
                .footer("""

                        Example:
                          ohmprint library repaired 3f9a 81c2 --note "new ribbon"
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        LibraryPlace place = LibraryOption.place(options);
        String words = options.text("--note");
        boolean fresh = KeepLibrary.repaired(
                place,
                options.argument(0),
                options.argument(1),
                words == null ? "" : words.strip(),
                LibraryOption.operator(options, place));
        String different = KeepLibrary.different(place, options.argument(0), options.argument(1));
        if (different != null) {
            console.err().println(OneLine.of("warning: " + different));
        }
        console.out().println(fresh ? "linked" : "known already");
        return ExitCode.DONE;
    }
}
