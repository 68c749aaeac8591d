package ohmprint.cli;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.library.EntryDetail;
import ohmprint.app.library.LibraryPlace;
import ohmprint.app.library.ReadLibrary;
import ohmprint.library.Link;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library show}: one measurement. */
record LibraryShowCommand() implements Command {
    /** Its name. */
    static final String NAME = "show";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Show one measurement, or a specification.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addPositional(CommandText.argument(
                        0, "ID", "Identifier, its first four digits or more; or the name of a specification."))
                .addOption(LibraryOption.library())
                .addOption(CommandText.flag("--curve", "Print its curve.json, as it was added."))
                .addOption(CommandText.flag("--specification", "ID is the name of a specification; print its text."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description("Shows what is known about a measurement, with its links.")
                .footer("""

                        Example:
                          ohmprint library show 3f9a
                          ohmprint library show 3f9a --curve > curve.json
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        LibraryPlace place = LibraryOption.place(options);
        String id = options.argument(0);
        if (options.has("--specification")) {
            console.out().print(ReadLibrary.specification(place, id));
            return ExitCode.DONE;
        }
        EntryDetail detail = ReadLibrary.show(place, id);
        if (options.has("--curve")) {
            console.out().print(detail.document());
        } else if (options.has("--json")) {
            LibraryJson.print(console.out(), g -> {
                LibraryJson.open(g, detail.entry());
                g.writeStringField("loads", detail.entry().loads());
                g.writeStringField("input", detail.entry().input());
                g.writeArrayFieldStart("links");
                for (Link link : detail.links()) {
                    g.writeStartObject();
                    g.writeStringField("kind", link.kind().word());
                    g.writeStringField("from", link.from());
                    g.writeStringField("to", link.to());
                    g.writeStringField("words", link.words());
                    g.writeStringField("by", link.by());
                    g.writeStringField("at", link.at().toString());
                    g.writeEndObject();
                }
                g.writeEndArray();
                g.writeFieldName("curve");
                g.writeRawValue(detail.document().strip());
                g.writeEndObject();
            });
        } else {
            LibraryDetail.print(detail, console.out());
        }
        return ExitCode.DONE;
    }
}
