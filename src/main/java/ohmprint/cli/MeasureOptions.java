package ohmprint.cli;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.regex.Pattern;
import ohmprint.app.MeasureRequest;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.Route;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.ParseResult;

/** Reads the values of options; every objection names option, value, unit and what is possible. */
final class MeasureOptions {
    private static final Pattern NUMBER = Pattern.compile("[0-9]{1,9}(\\.[0-9]{1,9})?");

    private MeasureOptions() {}

    /** What {@code measure} was asked to do. */
    static MeasureRequest request(ParseResult given) throws UsageException {
        String session = given.matchedPositionalValue(0, "");
        Integer bands = bands(text(given, "--bands"));
        double from = hertz("--from", text(given, "--from"), MeasureRequest.DEFAULT_FROM_HZ);
        double to = hertz("--to", text(given, "--to"), MeasureRequest.DEFAULT_TO_HZ);
        if (from >= to) {
            throw new UsageException("--from is " + plain(from) + " Hz" + ifDefault(given, "--from") + " and --to is "
                    + plain(to) + " Hz" + ifDefault(given, "--to") + "; give --from the lower frequency");
        }
        return new MeasureRequest(
                path("SESSION", session),
                folder(given),
                bands,
                route(text(given, "--route")),
                from,
                to,
                given.hasMatchedOption("--force"));
    }

    /** The folder given with {@code --out}, or null. */
    static @Nullable Path folder(ParseResult given) throws UsageException {
        String text = text(given, "--out");
        return text == null ? null : path("--out", text);
    }

    private static @Nullable Integer bands(@Nullable String text) throws UsageException {
        if (text == null) {
            return null;
        }
        String known = FrequencyBands.FRACTIONS.stream()
                .sorted()
                .map(String::valueOf)
                .filter(text::equals)
                .findFirst()
                .orElseThrow(() -> new UsageException(
                        "--bands is " + text + " per octave; choose 1, 3, 6, 12 or 24 bands per octave"));
        return Integer.valueOf(known);
    }

    private static @Nullable Route route(@Nullable String text) throws UsageException {
        if (text == null || text.equals("auto")) {
            return null;
        }
        return Arrays.stream(Route.values())
                .filter(route -> route.word().equals(text))
                .findFirst()
                .orElseThrow(() -> new UsageException(
                        "--route is " + text + "; choose auto, stimulus, reference, common or power"));
    }

    private static double hertz(String option, @Nullable String text, double otherwise) throws UsageException {
        if (text == null) {
            return otherwise;
        }
        double hz = NUMBER.matcher(text).matches() ? Double.parseDouble(text) : 0;
        if (!(hz > 0)) {
            throw new UsageException(
                    option + " is " + text + "; give a frequency above 0 Hz as a plain number, for example 1000");
        }
        return hz;
    }

    private static Path path(String what, String text) throws UsageException {
        if (text.isEmpty()) {
            throw new UsageException(what + " is empty; give the path of a folder");
        }
        try {
            return Path.of(text);
        } catch (InvalidPathException e) {
            throw new UsageException(what + " is " + text + ", which cannot be a path here; give the path of a folder");
        }
    }

    private static @Nullable String text(ParseResult given, String option) {
        return given.hasMatchedOption(option) ? given.<String>matchedOptionValue(option, "") : null;
    }

    private static String ifDefault(ParseResult given, String option) {
        return given.hasMatchedOption(option) ? "" : " unless you say otherwise";
    }

    private static String plain(double hz) {
        return hz == Math.rint(hz) ? Long.toString((long) hz) : Double.toString(hz);
    }
}
