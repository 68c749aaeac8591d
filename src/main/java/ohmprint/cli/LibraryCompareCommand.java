package ohmprint.cli;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.library.CompareCurves;
import ohmprint.app.library.Comparison;
import ohmprint.app.library.WholeFile;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library compare}: curves over each other. */
record LibraryCompareCommand() implements Command {
    /** Its name. */
    static final String NAME = "compare";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Lay curves over each other; say where they differ.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addPositional(CommandText.arguments(
                        "CURVE",
                        true,
                        "Two to six curves: identifiers, library:ID, curve.json files or folders of results; the others"
                                + " are compared with the first."))
                .addOption(LibraryOption.library())
                .addOption(CommandText.flag(
                        "--same-bench",
                        "Loads and input were the very same pieces for all: their common error drops out."))
                .addOption(LibraryPicture.option())
                .addOption(LibraryPicture.dark())
                .addOption(CommandText.value("--csv", "FILE", "Write the differences band by band."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description(
                        "Tells in which bands a curve differs from the first by more than the uncertainty of both explains. Of the bands called different no more than 5 %% are expected to be so by chance (Benjamini and Hochberg).")
                .footer("""

                        Example:
                          ohmprint library compare 3f9a 81c2 --picture before-after.png
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        Comparison comparison =
                CompareCurves.run(LibraryOption.place(options), options.arguments(), options.has("--same-bench"));
        LibraryPicture.write(options, comparison::picture);
        Path csv = options.path("--csv", "the path of a file");
        if (csv != null) {
            WholeFile.replace(csv, comparison.csv().getBytes(StandardCharsets.UTF_8));
        }
        if (options.has("--json")) {
            ComparisonText.json(comparison, console.out());
        } else {
            ComparisonText.print(comparison, console.out());
        }
        return ExitCode.DONE;
    }
}
