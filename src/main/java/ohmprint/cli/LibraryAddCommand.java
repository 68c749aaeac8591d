package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Consumer;
import ohmprint.app.BadInputException;
import ohmprint.app.library.AddToLibrary;
import ohmprint.app.library.LibraryPlace;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** {@code library add}: results go into the library. */
record LibraryAddCommand() implements Command {
    /** Its name. */
    static final String NAME = "add";

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "Add results, or a specification.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME);
        spec.addPositional(CommandText.arguments(
                        "RESULT",
                        true,
                        "Folders of results, or curve.json files; or one file .yaml with a specification."))
                .addOption(LibraryOption.library())
                .addOption(LibraryOption.operator())
                .addOption(CommandText.value("--note", "TEXT", "What to remember about it."))
                .addOption(CommandText.value("--supersedes", "ID", "It takes the place of this measurement."))
                .addOption(CommandText.value(
                        "--after-repair-of", "ID", "It was measured after a repair, this one before."))
                .addOption(CommandText.flag("--again", "Add it although it was removed once."))
                .addOption(
                        CommandText.value("--name", "NAME", "Name of the specification (default: that of the file)."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .header(header())
                .description(
                        "Adds each result whole or not at all and prints its identifier. The library is made when it is not there. A result that is in it already changes nothing; its identifier is printed all the same, with what was not saved.")
                .footer("""

                        Example:
                          ohmprint library add bench-ribbon-7/result --note "before the repair"
                        """ + CommandText.EXIT_CODES);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        Options options = Options.of(given);
        boolean json = options.has("--json");
        LibraryPlace place = LibraryOption.place(options);
        String operator = LibraryOption.operator(options, place);
        List<String> curves = options.arguments();
        boolean specification = curves.stream().anyMatch(c -> c.matches("(?i).*\\.ya?ml"));
        if (specification) {
            if (curves.size() > 1) {
                throw new UsageException("a specification is among " + curves.size() + " arguments; add it on its own");
            }
            Path file = Options.path("RESULT", curves.get(0), "the path of a YAML file");
            String name = AddToLibrary.specification(place, file, options.text("--name"), operator);
            if (json) {
                LibraryJson.print(console.out(), g -> {
                    g.writeStartObject();
                    g.writeStringField("specification", name);
                    g.writeEndObject();
                });
            } else {
                console.out().println(OneLine.of(name));
            }
            return ExitCode.DONE;
        }
        if (options.has("--name")) {
            throw new UsageException("--name is for a specification; results keep the name of their microphone");
        }
        AddToLibrary.Request request = new AddToLibrary.Request(
                curves,
                operator,
                options.text("--note"),
                options.text("--supersedes"),
                options.text("--after-repair-of"),
                options.has("--again"));
        Consumer<AddToLibrary.Outcome> each = added -> {
            if (!json) {
                console.out().println(added.id());
                console.out().flush();
            }
            if (!added.fresh()) {
                console.err().println(OneLine.of(added.source() + ": in the library already, as " + added.id()));
            }
            added.notes().forEach(note -> console.err().println(OneLine.of(added.source() + ": " + note)));
            console.err().flush();
        };
        List<AddToLibrary.Outcome> outcomes = AddToLibrary.run(place, request, each);
        if (json) {
            LibraryJson.print(console.out(), g -> {
                g.writeStartArray();
                for (AddToLibrary.Outcome added : outcomes) {
                    g.writeStartObject();
                    g.writeStringField("id", added.id());
                    g.writeStringField("label", added.label());
                    g.writeBooleanField("new", added.fresh());
                    g.writeStringField("source", added.source());
                    g.writeArrayFieldStart("notes");
                    for (String note : added.notes()) {
                        g.writeString(note);
                    }
                    g.writeEndArray();
                    g.writeEndObject();
                }
                g.writeEndArray();
            });
        }
        return ExitCode.DONE;
    }
}
