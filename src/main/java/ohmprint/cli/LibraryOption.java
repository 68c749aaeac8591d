package ohmprint.cli;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import ohmprint.app.library.LibraryPlace;
import ohmprint.library.Filter;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/** Options that several commands of {@code library} share. */
final class LibraryOption {
    private static final int MOST = 1_000_000;

    private LibraryOption() {}

    /** {@code --library}. */
    static OptionSpec library() {
        return CommandText.value(
                "--library",
                "FILE|URL",
                "The library: a file, or jdbc:postgresql://HOST/DATABASE (default: OHMPRINT_LIBRARY, else a file in your"
                        + " folder for data). User and password of a server: PGUSER and PGPASSWORD, or ~/.pgpass.");
    }

    /** {@code --operator}. */
    static OptionSpec operator() {
        return CommandText.value("--operator", "NAME", "Who does this (default: OHMPRINT_OPERATOR, else your login).");
    }

    /** Which library was meant. */
    static LibraryPlace place(Options options) {
        return new LibraryPlace(options.text("--library"), System.getenv());
    }

    /** Who does it. */
    static String operator(Options options, LibraryPlace place) throws UsageException {
        String name = options.text("--operator");
        if (name != null && name.isBlank()) {
            throw new UsageException("--operator is empty; give a name");
        }
        return name == null ? place.usualOperator() : name.strip();
    }

    /** The options that choose measurements. */
    static void addQuery(CommandSpec spec) {
        spec.addOption(CommandText.value("--maker", "NAME", "Only this maker."))
                .addOption(CommandText.value("--model", "NAME", "Only this model."))
                .addOption(CommandText.value("--serial", "NUMBER", "Only this serial number."))
                .addOption(CommandText.value(
                        "--transducer", "TYPE", "Only this type: moving-coil, ribbon, condenser or other."))
                .addOption(CommandText.value("--by", "NAME", "Only what this operator measured or handed in."))
                .addOption(
                        CommandText.value("--route", "ROUTE", "Only this route: stimulus, reference, common or power."))
                .addOption(
                        CommandText.value("--verdict", "VERDICT", "Only this verdict: usable, doubtful or unusable."))
                .addOption(CommandText.value("--since", "DATE", "Measured on this day or later, as 2026-03-01 (UTC)."))
                .addOption(CommandText.value("--until", "DATE", "Measured before this day (UTC)."))
                .addOption(CommandText.flag("--superseded", "Superseded measurements too."));
    }

    /** What they chose. */
    static Filter query(Options options, List<String> words) throws UsageException {
        return new Filter(
                words,
                options.text("--maker"),
                options.text("--model"),
                options.text("--serial"),
                options.word("--transducer", List.of("moving-coil", "ribbon", "condenser", "other")),
                options.text("--by"),
                options.word("--route", List.of("stimulus", "reference", "common", "power")),
                options.word("--verdict", List.of("usable", "doubtful", "unusable")),
                day(options, "--since"),
                day(options, "--until"),
                options.has("--superseded"));
    }

    private static @Nullable Instant day(Options options, String option) throws UsageException {
        String text = options.text(option);
        if (text == null) {
            return null;
        }
        try {
            return text.length() > 10
                    ? Instant.parse(text)
                    : LocalDate.parse(text).atStartOfDay(ZoneOffset.UTC).toInstant();
        } catch (DateTimeException e) {
            throw new UsageException(option + " is " + text + "; give a day as 2026-03-01");
        }
    }

    /** {@code --limit}. */
    static OptionSpec limit(int usual, String more) {
        return CommandText.value("--limit", "N", "Show at most this many (default: " + usual + more + ").");
    }

    /** How many are shown at most. */
    static int limit(Options options, int usual) throws UsageException {
        Double n = options.number("--limit", new Options.Range("entries", 1, MOST, "50"));
        if (n == null) {
            return usual;
        }
        if (n != Math.rint(n)) {
            throw new UsageException("--limit is " + options.text("--limit") + "; give a whole number");
        }
        return n.intValue();
    }
}
