package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.library.Bundle;
import ohmprint.library.ImportResult;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library import}: a bundle is taken in. */
record LibraryImportCommand() implements Command {
    /** Its name. */
    static final String NAME = "import";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Take in a bundle of another workshop.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addPositional(CommandText.argument(0, "FILE", "The bundle."))
                .addOption(LibraryOption.library())
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description(
                        "Checks the whole bundle, then takes it in, all or nothing. What is here already stays as it is; where the two disagree is told on standard error.")
                .footer("""

                        Example:
                          ohmprint library import ribbons.zip
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        Path file = Options.path("FILE", options.argument(0), "the path of a bundle");
        ImportResult outcome = Bundle.take(LibraryOption.place(options), file);
        outcome.conflicts().forEach(conflict -> console.err().println(OneLine.of(conflict)));
        if (options.has("--json")) {
            LibraryJson.print(console.out(), g -> {
                g.writeStartObject();
                LibraryJson.texts(g, "added", outcome.added());
                g.writeNumberField("known", outcome.known());
                g.writeNumberField("links", outcome.links());
                LibraryJson.texts(g, "specifications", outcome.specifications());
                LibraryJson.texts(g, "conflicts", outcome.conflicts());
                g.writeEndObject();
            });
        } else {
            console.out()
                    .println(outcome.added().size() + " new, " + outcome.known() + " known, " + outcome.links()
                            + " new links, " + outcome.specifications().size() + " new specifications, "
                            + outcome.conflicts().size() + " conflicts");
        }
        return ExitCode.DONE;
    }
}
