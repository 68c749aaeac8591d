package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.library.KeepLibrary;
import ohmprint.app.library.LibraryPlace;
import ohmprint.library.Entry;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library remove}: a measurement is removed, a record stays. */
record LibraryRemoveCommand() implements Command {
    /** Its name. */
    static final String NAME = "remove";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Remove a measurement (a keeper only).";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addPositional(CommandText.argument(0, "ID", "The measurement."))
                .addOption(LibraryOption.library())
                .addOption(LibraryOption.operator())
                .addOption(CommandText.value("--reason", "TEXT", "Why; required."));
        spec.usageMessage()
                .header(header())
                .description(
                        "Removes a measurement for good. A record of identifier, label, reason, name and time stays. What is merely out of date is better superseded.")
                .footer("""

                        Example:
                          ohmprint library remove 3f9a --reason "another microphone was in the socket"
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        String reason = options.text("--reason");
        if (reason == null || reason.isBlank()) {
            throw new UsageException("--reason is missing; say why it is removed, for those who look for it");
        }
        LibraryPlace place = LibraryOption.place(options);
        Entry removed =
                KeepLibrary.remove(place, options.argument(0), reason.strip(), LibraryOption.operator(options, place));
        console.out().println(OneLine.of("removed " + removed.id() + ", " + removed.label()));
        return ExitCode.DONE;
    }
}
