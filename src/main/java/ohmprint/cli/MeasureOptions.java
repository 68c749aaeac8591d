package ohmprint.cli;

import java.util.Arrays;
import ohmprint.app.MeasureRequest;
import ohmprint.cli.Options.Range;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.Route;
import ohmprint.curve.SharedErrors;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/** Reads the values of options; every objection names option, value, unit and what is possible. */
final class MeasureOptions {
    private static final Range HERTZ = Range.above0("Hz", 1e6, "1000");
    private static final String FOLDER = "the path of a folder";

    private MeasureOptions() {}

    /** What {@code measure} was asked to do. */
    static MeasureRequest request(ParseResult given) throws UsageException {
        Options options = Options.of(given);
        Integer bands = bands(options.text("--bands"));
        Double asked = options.number("--from", HERTZ);
        double from = asked == null ? MeasureRequest.DEFAULT_FROM_HZ : asked;
        asked = options.number("--to", HERTZ);
        double to = asked == null ? MeasureRequest.DEFAULT_TO_HZ : asked;
        if (from >= to) {
            throw new UsageException("--from is " + Options.plain(from) + " Hz" + ifDefault(given, "--from")
                    + " and --to is " + Options.plain(to) + " Hz" + ifDefault(given, "--to")
                    + "; give --from the lower frequency");
        }
        return new MeasureRequest(
                Options.path("SESSION", options.argument(0), FOLDER),
                options.path("--out", FOLDER),
                bands,
                route(options.text("--route")),
                from,
                to,
                sharedErrors(options.text("--shared-errors")),
                options.has("--force"));
    }

    /** A grammar with the options of a measurement added. */
    static CommandSpec declared(CommandSpec spec) {
        return spec.addOption(CommandText.value("--out", "DIR", "Folder for the results (default: SESSION/result)."))
                .addOption(CommandText.value(
                        "--bands", "N", "Bands per octave: 1, 3, 6, 12 or 24 (default: 12, or 3 on the power route)."))
                .addOption(CommandText.value(
                        "--route",
                        "ROUTE",
                        "What the takes are compared with: auto, stimulus, reference, common"
                                + " or power (default: auto, the evidence decides)."))
                .addOption(CommandText.value("--from", "HZ", "Lowest midband in hertz (default: 20)."))
                .addOption(CommandText.value("--to", "HZ", "Highest midband in hertz (default: 20000)."))
                .addOption(CommandText.value(
                        "--shared-errors",
                        "WHAT",
                        "Errors common to all bands: fitted to all bands at once where three or more takes allow it, or"
                                + " carried into the uncertainty as believed (default: fitted)."))
                .addOption(CommandText.flag("--force", "Write a result even if the evidence does not support it."))
                .addOption(CommandText.json());
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

    private static SharedErrors sharedErrors(@Nullable String text) throws UsageException {
        if (text == null) {
            return SharedErrors.USUAL;
        }
        return Arrays.stream(SharedErrors.values())
                .filter(choice -> choice.word().equals(text))
                .findFirst()
                .orElseThrow(() -> new UsageException("--shared-errors is " + text + "; choose fitted or carried"));
    }

    private static String ifDefault(ParseResult given, String option) {
        return given.hasMatchedOption(option) ? "" : " unless you say otherwise";
    }
}
