package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.library.KeepLibrary;
import ohmprint.library.LibraryHealth;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library verify}: is anything damaged? */
record LibraryVerifyCommand() implements Command {
    /** Its name. */
    static final String NAME = "verify";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Look for damage.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addOption(LibraryOption.library()).addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description(
                        "Checks the file itself, the checksum of each document, and that what lists show is what documents say. Damage is told on standard error, exit code 2.")
                .footer("""

                        Example:
                          ohmprint library verify
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        LibraryHealth health = KeepLibrary.verify(LibraryOption.place(options));
        health.problems().forEach(problem -> console.err().println(OneLine.of(problem)));
        if (options.has("--json")) {
            LibraryJson.print(console.out(), g -> {
                g.writeStartObject();
                g.writeStringField("library", health.library());
                g.writeNumberField("measurements", health.measurements());
                LibraryJson.texts(g, "problems", health.problems());
                g.writeEndObject();
            });
        } else if (health.problems().isEmpty()) {
            console.out()
                    .println(OneLine.of(health.library() + ": " + health.measurements() + " measurements, no damage"));
        }
        if (!health.problems().isEmpty()) {
            console.err().println("What is damaged here is whole in a backup: keep this file and go on with a backup.");
            return ExitCode.BAD_INPUT;
        }
        return ExitCode.DONE;
    }
}
