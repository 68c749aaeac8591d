package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.library.Bundle;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.PositionalParamSpec;
import picocli.CommandLine.ParseResult;

/** {@code library export}: a bundle for another workshop. */
record LibraryExportCommand() implements Command {
    /** Its name. */
    static final String NAME = "export";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Write a bundle for another workshop.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addPositional(CommandText.argument(0, "FILE", "The new bundle, a zip file."))
                .addPositional(PositionalParamSpec.builder()
                        .index("1..*")
                        .arity("0..*")
                        .paramLabel("ID")
                        .type(String[].class)
                        .description("Measurements (default: all that the options mean).")
                        .build())
                .addOption(LibraryOption.library());
        LibraryOption.addQuery(spec);
        spec.addOption(CommandText.flag("--specifications", "The specifications too."));
        spec.usageMessage()
                .header(header())
                .description(
                        "Writes measurements as " + Bundle.contents() + " with checksums, whole or not at all.")
                .footer("""

                        Example:
                          ohmprint library export ribbons.zip --transducer ribbon
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        Path file = Options.path("FILE", options.argument(0), "the path of a new file");
        List<String> ids = List.of(given.matchedPositionalValue(1, new String[0]));
        int count = Bundle.export(
                LibraryOption.place(options),
                ids,
                LibraryOption.query(options, List.of()),
                options.has("--specifications"),
                file);
        console.out().println(OneLine.of(count + (count == 1 ? " measurement" : " measurements") + " in " + file));
        return ExitCode.DONE;
    }
}
