package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.library.KeepLibrary;
import ohmprint.app.library.LibraryPlace;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library supersede}: one measurement takes the place of another. */
record LibrarySupersedeCommand() implements Command {
    /** Its name. */
    static final String NAME = "supersede";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Let a measurement take the place of another.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addPositional(CommandText.argument(0, "OLD", "The older measurement."))
                .addPositional(CommandText.argument(1, "NEW", "The newer measurement."))
                .addOption(LibraryOption.library())
                .addOption(LibraryOption.operator())
                .addOption(CommandText.value("--reason", "TEXT", "Why."));
        spec.usageMessage()
                .header(header())
                .description("The old one stays and can be shown, but no longer counts in lists, searches and spreads.")
                .footer("""

                        Example:
                          ohmprint library supersede 3f9a 81c2 --reason "load was 680, not 820 ohm"
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        LibraryPlace place = LibraryOption.place(options);
        String words = options.text("--reason");
        boolean fresh = KeepLibrary.supersede(
                place,
                options.argument(0),
                options.argument(1),
                words == null ? "" : words.strip(),
                LibraryOption.operator(options, place));
        console.out().println(fresh ? "superseded" : "known already");
        return ExitCode.DONE;
    }
}
