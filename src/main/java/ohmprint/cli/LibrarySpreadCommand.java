package ohmprint.cli;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.library.LibraryPlace;
import ohmprint.app.library.Spread;
import ohmprint.app.library.WholeFile;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library spread}: how the units of a model differ. */
record LibrarySpreadCommand() implements Command {
    /** Its name. */
    static final String NAME = "spread";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "How the units of one model differ.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addPositional(CommandText.argument(0, "MODEL", "The model."))
                .addOption(LibraryOption.library())
                .addOption(CommandText.value("--maker", "NAME", "Only by this maker."))
                .addOption(CommandText.value(
                        "--out", "FILE", "Write it as a specification (YAML) that check --spec reads."))
                .addOption(LibraryPicture.option())
                .addOption(LibraryPicture.dark())
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description("Median and 5 %% to 95 %% range of |Z| in each band, of each unit its newest measurement.")
                .footer("""

                        Example:
                          ohmprint library spread Heron --out heron.yaml --picture heron.png
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        LibraryPlace place = LibraryOption.place(options);
        Spread spread = Spread.of(place, options.text("--maker"), options.argument(0));
        Path out = options.path("--out", "the path of a file");
        if (out != null) {
            WholeFile.replace(out, spread.specification().getBytes(StandardCharsets.UTF_8));
        }
        LibraryPicture.write(options, spread::picture);
        if (options.has("--json")) {
            SpreadText.json(spread, console.out());
        } else {
            SpreadText.print(spread, console.out());
        }
        return ExitCode.DONE;
    }
}
