package ohmprint.cli;

import java.io.IOException;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.library.FindLike;
import ohmprint.app.library.ReadLibrary;
import ohmprint.library.EntryList;
import ohmprint.library.Filter;
import ohmprint.library.Likeness;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library find}: measurements by words or by likeness. */
record LibraryFindCommand() implements Command {
    /** Its name. */
    static final String NAME = "find";

    private static final int USUAL = 100;
    private static final int LIKEST = 10;

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Find measurements by words, or by likeness.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addPositional(CommandText.arguments(
                        "WORD",
                        false,
                        "All of them occur in label, maker, model, serial number, notes, operator, route, verdict or"
                                + " findings."))
                .addOption(LibraryOption.library())
                .addOption(CommandText.value(
                        "--like",
                        "CURVE",
                        "Instead: rank by likeness with this curve, a measurement of the library or a file."));
        LibraryOption.addQuery(spec);
        spec.addOption(LibraryOption.limit(USUAL, "; " + LIKEST + " with --like"))
                .addOption(CommandText.flag("--json", "Print a JSON list to standard output instead of the table."));
        spec.usageMessage()
                .header(header())
                .description(
                        "Finds measurements, newest first, or ranks them by likeness of |Z| over frequency, each band weighted by both uncertainties.")
                .footer("""

                        Example:
                          ohmprint library find ribbon hum
                          ohmprint library find --like unknown/result
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        boolean json = options.has("--json");
        String like = options.text("--like");
        List<String> words = options.arguments();
        if (like != null) {
            return likest(options, like, words, console);
        }
        EntryList list = ReadLibrary.list(
                LibraryOption.place(options),
                LibraryOption.query(options, words),
                LibraryOption.limit(options, json ? Integer.MAX_VALUE : USUAL));
        if (json) {
            LibraryJson.print(console.out(), g -> LibraryJson.list(g, list.entries()));
        } else {
            LibraryTable.print(list, console.out());
        }
        return ExitCode.DONE;
    }

    private static int likest(Options options, String like, List<String> words, Console console)
            throws BadInputException, UsageException, IOException {
        if (!words.isEmpty() || !LibraryOption.query(options, words).equals(Filter.CURRENT)) {
            throw new UsageException("--like ranks everything in the library; give it without words and other filters");
        }
        FindLike.Outcome found = FindLike.run(LibraryOption.place(options), like, LibraryOption.limit(options, LIKEST));
        if (options.has("--json")) {
            LibraryJson.print(console.out(), g -> {
                g.writeStartArray();
                for (Likeness l : found.likes()) {
                    LibraryJson.open(g, l.entry());
                    LibraryJson.number(g, "distance", l.distance());
                    LibraryJson.number(g, "difference_percent", l.differencePercent());
                    g.writeNumberField("bands", l.bands());
                    g.writeEndObject();
                }
                g.writeEndArray();
            });
        } else {
            LibraryDetail.print(found, console.out());
        }
        console.err().println(FindLike.CAUTION);
        return ExitCode.DONE;
    }
}
