package ohmprint.cli;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.cli.ValueFormat.Range;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.Permitted;
import ohmprint.impedance.Route;
import ohmprint.impedance.SharedErrors;
import org.jspecify.annotations.Nullable;

/** How {@code measure} and {@code input} are called. */
final class MeasureOptions {
    private static final String FOLDER = "the path of a folder";
    private static final String AUTO = "auto";
    private static final List<String> ROUTES = Stream.concat(
                    Stream.of(AUTO), Arrays.stream(Route.values()).map(Route::word))
            .toList();

    private static final Parameter<Path> SESSION = Parameter.argument(
            0, "SESSION", "Folder with session.yaml and the takes, or that session.yaml.", ValueFormat.path(FOLDER));
    private static final Parameter<Path> OUT = Parameter.option(
            "--out", "DIR", "Folder for the results (default: SESSION/result).", ValueFormat.path(FOLDER));
    private static final Parameter<Integer> BANDS = Parameter.option(
            "--bands",
            "N",
            "Bands per octave: 1, 3, 6, 12 or 24 (default: 12, or 3 on the power route).",
            MeasureOptions::bands);
    private static final Parameter<String> ROUTE = Parameter.option(
            "--route",
            "ROUTE",
            "What the takes are compared with: " + TerminalText.list(ROUTES, "or")
                    + " (default: auto, the evidence decides).",
            ValueFormat.word(ROUTES));
    private static final Parameter<Double> FROM = Parameter.option(
                    "--from", "HZ", "Lowest midband in hertz.", Range.of(Permitted.HERTZ, "1000"))
            .usually(MeasureRequest.DEFAULT_FROM_HZ);
    private static final Parameter<Double> TO = Parameter.option(
                    "--to", "HZ", "Highest midband in hertz.", Range.of(Permitted.HERTZ, "1000"))
            .usually(MeasureRequest.DEFAULT_TO_HZ);
    private static final Parameter<SharedErrors> SHARED_ERRORS = Parameter.option(
            "--shared-errors",
            "WHAT",
            "Errors common to all bands: fitted to all bands at once where three or more takes allow it, or"
                    + " carried into the uncertainty as believed (default: fitted).",
            ValueFormat.choice(List.of(SharedErrors.values()), SharedErrors::word));
    private static final Parameter<String> FORCE =
            Parameter.flag("--force", "Write a result even if the evidence does not support it.");

    /** Exit codes of commands that measure. */
    static final String EXIT_CODES = """

            Exit codes:
              0  done
              1  a fault of the program
              2  bad input or usage; nothing is written
              3  the evidence does not support a curve; nothing is written (with --force a result is
                 written, marked unusable, and the exit code is 0)
            """;

    private MeasureOptions() {}

    /** The usage of a command with these options. */
    static Usage usage(String description, String footer) {
        return new Usage(
                description, footer, SESSION, OUT, BANDS, ROUTE, FROM, TO, SHARED_ERRORS, FORCE, Parameter.JSON);
    }

    /** What was asked for. */
    static MeasureRequest request(Options given) throws UsageException {
        Integer bands = given.find(BANDS);
        double from = given.get(FROM);
        double to = given.get(TO);
        Options.requireOrder(from, ifUsual(given, FROM), to, ifUsual(given, TO));
        return new MeasureRequest(
                given.get(SESSION),
                given.find(OUT),
                bands,
                route(given.find(ROUTE)),
                from,
                to,
                given.or(SHARED_ERRORS, SharedErrors.USUAL),
                given.has(FORCE));
    }

    private static Integer bands(String what, String text) throws UsageException {
        return FrequencyBands.FRACTIONS.stream()
                .filter(fraction -> fraction.toString().equals(text))
                .findFirst()
                .orElseThrow(() -> new UsageException(
                        what + " is " + text + " per octave; choose 1, 3, 6, 12 or 24 bands per octave"));
    }

    private static @Nullable Route route(@Nullable String word) {
        return Arrays.stream(Route.values())
                .filter(route -> route.word().equals(word))
                .findFirst()
                .orElse(null);
    }

    private static String ifUsual(Options given, Parameter<?> option) {
        return given.has(option) ? "" : " unless you say otherwise";
    }
}
