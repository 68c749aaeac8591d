package ohmprint.cli;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.library.AddToLibrary;
import ohmprint.app.library.Bundle;
import ohmprint.app.library.Comparison;
import ohmprint.app.library.FindLike;
import ohmprint.app.library.LibraryConnection;
import ohmprint.app.library.LibraryMaintenance;
import ohmprint.app.library.PictureKind;
import ohmprint.app.library.ReadLibrary;
import ohmprint.app.library.ReadLibrary.EntryDetail;
import ohmprint.app.library.Spread;
import ohmprint.app.library.WholeFile;
import ohmprint.cli.ValueFormat.Range;
import ohmprint.impedance.Route;
import ohmprint.impedance.Usability;
import ohmprint.json.JsonObject;
import ohmprint.json.LibraryJson;
import ohmprint.library.Entry;
import ohmprint.library.EntryList;
import ohmprint.library.Filter;
import ohmprint.library.ImportResult;
import ohmprint.library.LibraryHealth;

/** {@code library}: the collection of measurements, by the commands below it, which share their options. */
final class LibraryCommand extends Command {
    /** Its name. */
    static final String NAME = "library";

    /** What it is for. */
    static final String HEADER = "Keep measurements, find and compare them.";

    private static final int USUAL_LIMIT = 100;
    private static final int LIKEST = 10;
    private static final List<String> ROUTES =
            Arrays.stream(Route.values()).map(Route::word).toList();
    private static final List<String> VERDICTS =
            Arrays.stream(Usability.values()).map(Usability::word).toList();
    private static final ValueFormat<Path> A_FILE = ValueFormat.path("the path of a file");
    private static final ValueFormat<Path> NEW_FILE = ValueFormat.path("the path of a new file");

    private static final Parameter<String> LIBRARY = Parameter.option(
            "--library",
            "FILE|URL",
            "The library: a file, or jdbc:postgresql://HOST/DATABASE (default: OHMPRINT_LIBRARY, else a file in your"
                    + " folder for data). User and password of a server: PGUSER and PGPASSWORD, or ~/.pgpass.");
    private static final Parameter<String> OPERATOR = Parameter.option(
            "--operator",
            "NAME",
            "Who does this (default: OHMPRINT_OPERATOR, else your login).",
            LibraryCommand::operator);
    private static final Parameter<String> JSON_LIST =
            Parameter.flag("--json", "Print a JSON list to standard output instead of the table.");

    private static final Parameter<String> MAKER = Parameter.option("--maker", "NAME", "Only this maker.");
    private static final Parameter<String> MODEL = Parameter.option("--model", "NAME", "Only this model.");
    private static final Parameter<String> SERIAL = Parameter.option("--serial", "NUMBER", "Only this serial number.");
    private static final Parameter<String> TRANSDUCER = Parameter.option(
            "--transducer",
            "TYPE",
            "Only this type: " + TerminalText.list(ValueFormat.TRANSDUCERS, "or") + ".",
            ValueFormat.word(ValueFormat.TRANSDUCERS));
    private static final Parameter<String> BY =
            Parameter.option("--by", "NAME", "Only what this operator measured or handed in.");
    private static final Parameter<String> ROUTE = Parameter.option(
            "--route", "ROUTE", "Only this route: " + TerminalText.list(ROUTES, "or") + ".", ValueFormat.word(ROUTES));
    private static final Parameter<String> VERDICT = Parameter.option(
            "--verdict",
            "VERDICT",
            "Only this verdict: " + TerminalText.list(VERDICTS, "or") + ".",
            ValueFormat.word(VERDICTS));
    private static final Parameter<Instant> SINCE = Parameter.option(
            "--since", "DATE", "Measured on this day or later, as 2026-03-01 (UTC).", LibraryCommand::day);
    private static final Parameter<Instant> UNTIL =
            Parameter.option("--until", "DATE", "Measured before this day (UTC).", LibraryCommand::day);
    private static final Parameter<String> SUPERSEDED = Parameter.flag("--superseded", "Superseded measurements too.");
    /** The options that choose measurements. */
    private static final List<Parameter<?>> QUERY =
            List.of(MAKER, MODEL, SERIAL, TRANSDUCER, BY, ROUTE, VERDICT, SINCE, UNTIL, SUPERSEDED);

    private static final Parameter<Integer> LIMIT = Parameter.option(
            "--limit", "N", "Show at most this many.", new Range("entries", 1, 1_000_000, "50").whole());
    private static final Parameter<Integer> LIMIT_OF_LIST = LIMIT.usually(USUAL_LIMIT, "; with --json all");
    private static final Parameter<Integer> LIMIT_OF_FIND = LIMIT.usually(USUAL_LIMIT, "; " + LIKEST + " with --like");

    private static final Parameter<Path> PICTURE = Parameter.option(
            "--picture",
            "FILE",
            "Write a picture, .svg or .png.",
            ValueFormat.path("the path of a file that ends in .svg or .png"));
    private static final Parameter<String> DARK = Parameter.flag("--dark", "The picture for a dim room.");

    private static final Parameter<String> RESULTS = Parameter.arguments(
            0, "RESULT", true, "Folders of results, or curve.json files; or one file .yaml with a specification.");
    private static final Parameter<String> NOTE_OF_RESULT =
            Parameter.option("--note", "TEXT", "What to remember about it.");
    private static final Parameter<String> SUPERSEDES =
            Parameter.option("--supersedes", "ID", "It takes the place of this measurement.");
    private static final Parameter<String> AFTER_REPAIR_OF =
            Parameter.option("--after-repair-of", "ID", "It was measured after a repair, this one before.");
    private static final Parameter<String> AGAIN = Parameter.flag("--again", "Add it although it was removed once.");
    private static final Parameter<String> NAME_OF_SPECIFICATION =
            Parameter.option("--name", "NAME", "Name of the specification (default: that of the file).");

    private static final Parameter<String> SPECIFICATIONS_INSTEAD =
            Parameter.flag("--specifications", "The names of the specifications instead.");

    private static final Parameter<String> SHOWN =
            Parameter.argument(0, "ID", "Identifier, its first four digits or more; or the name of a specification.");
    private static final Parameter<String> CURVE_DOCUMENT =
            Parameter.flag("--curve", "Print its curve.json, as it was added.");
    private static final Parameter<String> SPECIFICATION_TEXT =
            Parameter.flag("--specification", "ID is the name of a specification; print its text.");

    private static final Parameter<String> WORDS = Parameter.arguments(
            0,
            "WORD",
            false,
            "All of them occur in label, maker, model, serial number, notes, operator, route, verdict or findings.");
    private static final Parameter<String> LIKE = Parameter.option(
            "--like", "CURVE", "Instead: rank by likeness with this curve, a measurement of the library or a file.");

    private static final Parameter<String> CURVES = Parameter.arguments(
            0,
            "CURVE",
            true,
            "Two to six curves: identifiers, library:ID, curve.json files or folders of results; the others"
                    + " are compared with the first.");
    private static final Parameter<String> SAME_BENCH = Parameter.flag(
            "--same-bench", "Loads and input were the very same pieces for all: their common error drops out.");
    private static final Parameter<Path> CSV =
            Parameter.option("--csv", "FILE", "Write the differences band by band.", A_FILE);

    private static final Parameter<String> SPREAD_MODEL = Parameter.argument(0, "MODEL", "The model.");
    private static final Parameter<String> SPREAD_MAKER = Parameter.option("--maker", "NAME", "Only by this maker.");
    private static final Parameter<Path> SPREAD_OUT =
            Parameter.option("--out", "FILE", "Write it as a specification (YAML) that check --spec reads.", A_FILE);

    private static final Parameter<Path> NEW_BUNDLE =
            Parameter.argument(0, "FILE", "The new bundle, a zip file.", NEW_FILE);
    private static final Parameter<String> EXPORTED =
            Parameter.arguments(1, "ID", false, "Measurements (default: all that the options mean).");
    private static final Parameter<String> SPECIFICATIONS_TOO =
            Parameter.flag("--specifications", "The specifications too.");
    private static final Parameter<Path> BUNDLE =
            Parameter.argument(0, "FILE", "The bundle.", ValueFormat.path("the path of a bundle"));
    private static final Parameter<Path> BACKUP = Parameter.argument(0, "FILE", "The new file.", NEW_FILE);

    private static final Parameter<String> OLD = Parameter.argument(0, "OLD", "The older measurement.");
    private static final Parameter<String> NEW = Parameter.argument(1, "NEW", "The newer measurement.");
    private static final Parameter<String> REASON = Parameter.option("--reason", "TEXT", "Why.");
    private static final Parameter<String> BEFORE = Parameter.argument(0, "BEFORE", "The older measurement.");
    private static final Parameter<String> AFTER = Parameter.argument(1, "AFTER", "The newer measurement.");
    private static final Parameter<String> NOTE_OF_REPAIR = Parameter.option("--note", "TEXT", "What was done.");
    private static final Parameter<String> REMOVED = Parameter.argument(0, "ID", "The measurement.");
    private static final Parameter<String> REASON_OF_REMOVAL = Parameter.option("--reason", "TEXT", "Why; required.");

    LibraryCommand() {
        super(
                NAME,
                HEADER,
                new Usage(
                        "A library is one SQLite file, or a PostgreSQL database that a workshop shares. Which one:"
                                + " --library, else OHMPRINT_LIBRARY, else ohmprint/library.db in your folder for data"
                                + " (XDG_DATA_HOME or ~/.local/share). Wherever a command takes a curve, library:ID names"
                                + " one of the library.",
                        Usage.example("library add bench-ribbon-7/result", "library list") + Usage.EXIT_CODES));
    }

    @Override
    int run(Options given, Console console) {
        throw new IllegalStateException("the commands below are run");
    }

    /** A command below {@code library}. */
    private static final class Below extends Command {
        Below(String name, String header, Usage usage) {
            super(name, header, usage);
        }

        @Override
        int run(Options given, Console console) throws BadInputException, UsageException, IOException {
            LibraryConnection library = new LibraryConnection(given.find(LIBRARY), System.getenv());
            return switch (name()) {
                case "add" -> add(library, given, console);
                case "list" -> list(library, given, console);
                case "show" -> show(library, given, console);
                case "find" -> find(library, given, console);
                case "compare" -> compare(library, given, console);
                case "spread" -> spread(library, given, console);
                case "export" -> export(library, given, console);
                case "import" -> importBundle(library, given, console);
                case "backup" -> backUp(library, given, console);
                case "verify" -> verify(library, given, console);
                case "create" -> create(library, console);
                case "supersede" -> supersede(library, given, console);
                case "repaired" -> repaired(library, given, console);
                case "remove" -> remove(library, given, console);
                default -> throw new IllegalStateException("there is no command " + name());
            };
        }
    }

    @Override
    List<Command> below() {
        return List.of(
                new Below(
                        "add",
                        "Add results, or a specification.",
                        usage(
                                "Adds each result whole or not at all and prints its identifier. The library is made"
                                        + " when it is not there. A result that is in it already changes nothing; its"
                                        + " identifier is printed all the same, with what was not saved.",
                                Usage.example("library add bench-ribbon-7/result --note \"before the repair\""),
                                RESULTS,
                                LIBRARY,
                                OPERATOR,
                                NOTE_OF_RESULT,
                                SUPERSEDES,
                                AFTER_REPAIR_OF,
                                AGAIN,
                                NAME_OF_SPECIFICATION,
                                Parameter.JSON)),
                new Below(
                        "list",
                        "List what the library holds.",
                        usage(
                                "Lists measurements, newest first.",
                                Usage.example("library list --transducer ribbon --since 2026-01-01"),
                                withQuery(
                                        List.of(LIBRARY), List.of(LIMIT_OF_LIST, SPECIFICATIONS_INSTEAD, JSON_LIST)))),
                new Below(
                        "show",
                        "Show one measurement, or a specification.",
                        usage(
                                "Shows what is known about a measurement, with its links.",
                                Usage.example("library show 3f9a", "library show 3f9a --curve > curve.json"),
                                SHOWN,
                                LIBRARY,
                                CURVE_DOCUMENT,
                                SPECIFICATION_TEXT,
                                Parameter.JSON)),
                new Below(
                        "find",
                        "Find measurements by words, or by likeness.",
                        usage(
                                "Finds measurements, newest first, or ranks them by likeness of |Z| over frequency, each"
                                        + " band weighted by both uncertainties.",
                                Usage.example("library find ribbon hum", "library find --like unknown/result"),
                                withQuery(List.of(WORDS, LIBRARY, LIKE), List.of(LIMIT_OF_FIND, JSON_LIST)))),
                new Below(
                        "compare",
                        "Lay curves over each other; say where they differ.",
                        usage(
                                "Tells in which bands a curve differs from the first by more than the uncertainty of both"
                                        + " explains. Of the bands called different no more than 5 %% are expected to be so"
                                        + " by chance (Benjamini and Hochberg).",
                                Usage.example("library compare 3f9a 81c2 --picture before-after.png"),
                                CURVES,
                                LIBRARY,
                                SAME_BENCH,
                                PICTURE,
                                DARK,
                                CSV,
                                Parameter.JSON)),
                new Below(
                        "spread",
                        "How the units of one model differ.",
                        usage(
                                "Median and 5 %% to 95 %% range of |Z| in each band, of each unit its newest measurement.",
                                Usage.example("library spread Heron --out heron.yaml --picture heron.png"),
                                SPREAD_MODEL,
                                LIBRARY,
                                SPREAD_MAKER,
                                SPREAD_OUT,
                                PICTURE,
                                DARK,
                                Parameter.JSON)),
                new Below(
                        "export",
                        "Write a bundle for another workshop.",
                        usage(
                                "Writes measurements as " + Bundle.contents() + " with checksums, whole or not at all.",
                                Usage.example("library export ribbons.zip --transducer ribbon"),
                                withQuery(List.of(NEW_BUNDLE, EXPORTED, LIBRARY), List.of(SPECIFICATIONS_TOO)))),
                new Below(
                        "import",
                        "Take in a bundle of another workshop.",
                        usage(
                                "Checks the whole bundle, then takes it in, all or nothing. What is here already stays"
                                        + " as it is; where the two disagree is told on standard error.",
                                Usage.example("library import ribbons.zip"),
                                BUNDLE,
                                LIBRARY,
                                Parameter.JSON)),
                new Below(
                        "backup",
                        "Copy everything into a new library file.",
                        usage(
                                "Copies a library of either kind, as it is at one moment while others go on working, into"
                                        + " a new file, whole or not at all. The file is a library itself.",
                                Usage.example("library backup 2026-03-01.db"),
                                BACKUP,
                                LIBRARY)),
                new Below(
                        "verify",
                        "Look for damage.",
                        usage(
                                "Checks the file itself, the checksum of each document, and that what lists show is what"
                                        + " documents say. Damage is told on standard error, exit code 2.",
                                Usage.example("library verify"),
                                LIBRARY,
                                Parameter.JSON)),
                new Below(
                        "create",
                        "Make an empty library.",
                        usage(
                                "Makes the file, or the tables in a database. A library that is there is left as it is,"
                                        + " and brought up to date if an older program made it.",
                                """

                                Example:
                                  PGUSER=owner ohmprint library create --library jdbc:postgresql://db.workshop.example/curves
                                """,
                                LIBRARY)),
                new Below(
                        "supersede",
                        "Let a measurement take the place of another.",
                        usage(
                                "The old one stays and can be shown, but no longer counts in lists, searches and spreads.",
                                Usage.example("library supersede 3f9a 81c2 --reason \"load was 680, not 820 ohm\""),
                                OLD,
                                NEW,
                                LIBRARY,
                                OPERATOR,
                                REASON)),
                new Below(
                        "repaired",
                        "Link before and after a repair.",
                        usage(
                                "Both keep counting; show tells of the link.",
                                Usage.example("library repaired 3f9a 81c2 --note \"new ribbon\""),
                                BEFORE,
                                AFTER,
                                LIBRARY,
                                OPERATOR,
                                NOTE_OF_REPAIR)),
                new Below(
                        "remove",
                        "Remove a measurement (a keeper only).",
                        usage(
                                "Removes a measurement for good. A record of identifier, label, reason, name and time"
                                        + " stays. What is merely out of date is better superseded.",
                                Usage.example("library remove 3f9a --reason \"another microphone was in the socket\""),
                                REMOVED,
                                LIBRARY,
                                OPERATOR,
                                REASON_OF_REMOVAL)));
    }

    private static Usage usage(String description, String examples, Parameter<?>... parameters) {
        return new Usage(description, examples + Usage.EXIT_CODES, parameters);
    }

    /** The options that choose measurements between others. */
    private static Parameter<?>[] withQuery(List<Parameter<?>> before, List<Parameter<?>> after) {
        return Stream.of(before, QUERY, after).flatMap(List::stream).toArray(Parameter<?>[]::new);
    }

    private static int add(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        boolean json = given.has(Parameter.JSON);
        String operator = given.or(OPERATOR, library.usualOperator());
        List<String> results = given.all(RESULTS);
        if (results.stream().anyMatch(result -> result.matches("(?i).*\\.ya?ml"))) {
            if (results.size() > 1) {
                throw new UsageException(
                        "a specification is among " + results.size() + " arguments; add it on its own");
            }
            Path file = ValueFormat.path("the path of a YAML file").read(RESULTS.name(), results.get(0));
            String name = AddToLibrary.specification(library, file, given.find(NAME_OF_SPECIFICATION), operator);
            if (json) {
                new JsonObject().put("specification", name).print(console.out());
            } else {
                console.line(name);
            }
            return ExitCode.DONE;
        }
        if (given.has(NAME_OF_SPECIFICATION)) {
            throw new UsageException("--name is for a specification; results keep the name of their microphone");
        }
        AddToLibrary.Request request = new AddToLibrary.Request(
                results,
                operator,
                given.find(NOTE_OF_RESULT),
                given.find(SUPERSEDES),
                given.find(AFTER_REPAIR_OF),
                given.has(AGAIN));
        List<AddToLibrary.Outcome> outcomes = AddToLibrary.run(library, request, added -> {
            if (!json) {
                console.line(added.id());
                console.out().flush();
            }
            if (!added.fresh()) {
                console.note(added.source() + ": in the library already, as " + added.id());
            }
            added.notes().forEach(note -> console.note(added.source() + ": " + note));
        });
        if (json) {
            JsonObject.print(JsonObject.list(outcomes, LibraryJson::added), console.out());
        }
        return ExitCode.DONE;
    }

    private static int list(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        if (!given.has(SPECIFICATIONS_INSTEAD)) {
            return entries(library, given, List.of(), LIMIT_OF_LIST, console);
        }
        List<String> names = ReadLibrary.specifications(library);
        if (given.has(JSON_LIST)) {
            JsonObject.print(names, console.out());
        } else {
            names.forEach(console::line);
        }
        return ExitCode.DONE;
    }

    private static int find(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        String like = given.find(LIKE);
        List<String> words = given.all(WORDS);
        if (like == null) {
            return entries(library, given, words, LIMIT_OF_FIND, console);
        }
        if (!words.isEmpty() || !query(given, words).equals(Filter.CURRENT)) {
            throw new UsageException("--like ranks everything in the library; give it without words and other filters");
        }
        FindLike.Outcome found = FindLike.run(library, like, given.or(LIMIT_OF_FIND, LIKEST));
        if (given.has(JSON_LIST)) {
            JsonObject.print(JsonObject.list(found.likes(), LibraryJson::similarity), console.out());
        } else {
            LibraryReport.print(found, console);
        }
        console.note(FindLike.CAUTION);
        return ExitCode.DONE;
    }

    private static int entries(
            LibraryConnection library, Options given, List<String> words, Parameter<Integer> limit, Console console)
            throws BadInputException, UsageException, IOException {
        boolean json = given.has(JSON_LIST);
        Filter query = query(given, words);
        EntryList list = ReadLibrary.list(library, query, given.or(limit, json ? Integer.MAX_VALUE : USUAL_LIMIT));
        if (json) {
            JsonObject.print(JsonObject.list(list.entries(), LibraryJson::entry), console.out());
        } else {
            LibraryReport.print(list, console);
        }
        return ExitCode.DONE;
    }

    private static int show(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        String id = given.get(SHOWN);
        if (given.has(SPECIFICATION_TEXT)) {
            console.out().print(ReadLibrary.specification(library, id));
            return ExitCode.DONE;
        }
        EntryDetail detail = ReadLibrary.show(library, id);
        if (given.has(CURVE_DOCUMENT)) {
            console.out().print(detail.document());
        } else if (given.has(Parameter.JSON)) {
            LibraryJson.detail(detail).print(console.out());
        } else {
            LibraryReport.print(detail, console);
        }
        return ExitCode.DONE;
    }

    private static int compare(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        Comparison comparison = Comparison.run(library, given.all(CURVES), given.has(SAME_BENCH));
        writePicture(given, comparison::picture);
        Path csv = given.find(CSV);
        if (csv != null) {
            WholeFile.replace(csv, comparison.csv().getBytes(StandardCharsets.UTF_8));
        }
        if (given.has(Parameter.JSON)) {
            LibraryJson.comparison(comparison).print(console.out());
        } else {
            LibraryReport.print(comparison, console);
        }
        return ExitCode.DONE;
    }

    private static int spread(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        Spread spread = Spread.of(library, given.find(SPREAD_MAKER), given.get(SPREAD_MODEL));
        Path out = given.find(SPREAD_OUT);
        if (out != null) {
            WholeFile.replace(out, spread.specification().getBytes(StandardCharsets.UTF_8));
        }
        writePicture(given, spread::picture);
        if (given.has(Parameter.JSON)) {
            LibraryJson.spread(spread).print(console.out());
        } else {
            LibraryReport.print(spread, console);
        }
        return ExitCode.DONE;
    }

    private static int export(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        Path file = given.get(NEW_BUNDLE);
        int count = Bundle.export(
                library, given.all(EXPORTED), query(given, List.of()), given.has(SPECIFICATIONS_TOO), file);
        console.line(count + (count == 1 ? " measurement" : " measurements") + " in " + file);
        return ExitCode.DONE;
    }

    private static int importBundle(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        ImportResult outcome = Bundle.take(library, given.get(BUNDLE));
        outcome.conflicts().forEach(console::note);
        if (given.has(Parameter.JSON)) {
            LibraryJson.imported(outcome).print(console.out());
        } else {
            console.line(outcome.added().size() + " new, " + outcome.known() + " known, " + outcome.links()
                    + " new links, " + outcome.specifications().size() + " new specifications, "
                    + outcome.conflicts().size() + " conflicts");
        }
        return ExitCode.DONE;
    }

    private static int backUp(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        Path file = given.get(BACKUP);
        LibraryMaintenance.backUp(library, file);
        console.line(file.toString());
        return ExitCode.DONE;
    }

    private static int verify(LibraryConnection library, Options given, Console console)
            throws BadInputException, IOException {
        LibraryHealth health = LibraryMaintenance.verify(library);
        health.problems().forEach(console::note);
        if (given.has(Parameter.JSON)) {
            LibraryJson.health(health).print(console.out());
        } else if (health.problems().isEmpty()) {
            console.line(health.library() + ": " + health.measurements() + " measurements, no damage");
        }
        if (!health.problems().isEmpty()) {
            console.note("What is damaged here is whole in a backup: keep this file and go on with a backup.");
            return ExitCode.BAD_INPUT;
        }
        return ExitCode.DONE;
    }

    private static int create(LibraryConnection library, Console console) throws BadInputException, IOException {
        console.line("ready, " + LibraryMaintenance.create(library) + " measurements");
        return ExitCode.DONE;
    }

    private static int supersede(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        boolean fresh = LibraryMaintenance.supersede(
                library,
                given.get(OLD),
                given.get(NEW),
                given.or(REASON, "").strip(),
                given.or(OPERATOR, library.usualOperator()));
        console.line(fresh ? "superseded" : "known already");
        return ExitCode.DONE;
    }

    private static int repaired(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        boolean fresh = LibraryMaintenance.repaired(
                library,
                given.get(BEFORE),
                given.get(AFTER),
                given.or(NOTE_OF_REPAIR, "").strip(),
                given.or(OPERATOR, library.usualOperator()));
        String different = LibraryMaintenance.different(library, given.get(BEFORE), given.get(AFTER));
        if (different != null) {
            console.note("warning: " + different);
        }
        console.line(fresh ? "linked" : "known already");
        return ExitCode.DONE;
    }

    private static int remove(LibraryConnection library, Options given, Console console)
            throws BadInputException, UsageException, IOException {
        String reason = given.or(REASON_OF_REMOVAL, "").strip();
        if (reason.isEmpty()) {
            throw new UsageException("--reason is missing; say why it is removed, for those who look for it");
        }
        Entry removed = LibraryMaintenance.remove(
                library, given.get(REMOVED), reason, given.or(OPERATOR, library.usualOperator()));
        console.line("removed " + removed.id() + ", " + removed.label());
        return ExitCode.DONE;
    }

    private static String operator(String what, String text) throws UsageException {
        if (text.isBlank()) {
            throw new UsageException(what + " is empty; give a name");
        }
        return text.strip();
    }

    private static Instant day(String what, String text) throws UsageException {
        try {
            return text.length() > 10
                    ? Instant.parse(text)
                    : LocalDate.parse(text).atStartOfDay(ZoneOffset.UTC).toInstant();
        } catch (DateTimeException e) {
            throw new UsageException(what + " is " + text + "; give a day as 2026-03-01");
        }
    }

    private static Filter query(Options given, List<String> words) throws UsageException {
        return new Filter(
                words,
                given.find(MAKER),
                given.find(MODEL),
                given.find(SERIAL),
                given.find(TRANSDUCER),
                given.find(BY),
                given.find(ROUTE),
                given.find(VERDICT),
                given.find(SINCE),
                given.find(UNTIL),
                given.has(SUPERSEDED));
    }

    /** Writes the picture if one was asked for. */
    private static void writePicture(Options given, Function<PictureKind, byte[]> drawing)
            throws UsageException, BadInputException, IOException {
        Path file = given.find(PICTURE);
        if (file == null) {
            if (given.has(DARK)) {
                throw new UsageException("--dark is for a picture; name its file with --picture");
            }
            return;
        }
        String name = file.toString().toLowerCase(Locale.ROOT);
        if (!name.endsWith(".svg") && !name.endsWith(".png")) {
            throw new UsageException("--picture is " + file + "; give a file that ends in .svg or .png");
        }
        WholeFile.replace(file, drawing.apply(new PictureKind(name.endsWith(".svg"), given.has(DARK))));
    }
}
