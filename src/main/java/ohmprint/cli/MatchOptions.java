package ohmprint.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.app.match.Electronics;
import ohmprint.app.match.MatchRequest;
import ohmprint.cli.Options.Range;
import ohmprint.curve.Permitted;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.ParseResult;

/** Reads the options of {@code match}; every objection names option, value, unit and what is possible. */
final class MatchOptions {
    private static final double HIGHEST_OHM = Permitted.OHM.most();
    private static final double HIGHEST_PF = Permitted.PICOFARAD.most();
    private static final double LONGEST_METRES = 10_000;
    private static final double HIGHEST_HZ = Permitted.HERTZ.most();
    private static final double MOST_DB = 200;
    private static final double MOST_NOISE = 1e6;
    private static final double COLDEST = -60;
    private static final double HOTTEST = 100;
    private static final List<String> WITH_SENSITIVITY = List.of(
            "--sensitivity-tolerance",
            "--spl",
            "--target",
            "--gain",
            "--ein",
            "--ein-source",
            "--voltage-noise",
            "--current-noise",
            "--booster-noise",
            "--celsius");

    private final Options options;

    private MatchOptions(Options options) {
        this.options = options;
    }

    /** What {@code match} was asked to do. */
    static MatchRequest request(ParseResult given) throws UsageException {
        return new MatchOptions(Options.of(given)).request();
    }

    private MatchRequest request() throws UsageException {
        if (options.argument(0).isEmpty()) {
            throw new UsageException("CURVE is empty; give a curve.json or the folder of a result");
        }
        List<Path> curves = new ArrayList<>();
        for (String text : options.texts("--input-curve")) {
            curves.add(Options.path("--input-curve", text, "the path of a measured input curve"));
        }
        String theme = options.word("--theme", List.of("light", "dark"));
        return new MatchRequest(
                options.argument(0),
                range(),
                loads(),
                curves,
                options.path("--inputs", "the path of a file that lists inputs"),
                line(),
                sound(),
                electronics(),
                booster(),
                or(options.number("--celsius", new Range("°C", COLDEST, HOTTEST, "20")), MatchRequest.ROOM_CELSIUS),
                options.path("--out", "the path of a folder"),
                "dark".equals(theme));
    }

    private MatchRequest.Range range() throws UsageException {
        double low = or(above("--from", "Hz", HIGHEST_HZ, "20"), MatchRequest.Range.AUDIBLE.fromHz());
        double high = or(above("--to", "Hz", HIGHEST_HZ, "20000"), MatchRequest.Range.AUDIBLE.toHz());
        if (low >= high) {
            throw new UsageException("--from is " + Options.plain(low) + " Hz and --to is " + Options.plain(high)
                    + " Hz; give --from the lower frequency");
        }
        return new MatchRequest.Range(low, high);
    }

    private List<MatchRequest.Load> loads() throws UsageException {
        List<MatchRequest.Load> out = new ArrayList<>();
        Range ohms = Range.above0("Ω", HIGHEST_OHM, "1500, or 1500:470 with picofarads");
        for (String text : options.texts("--load")) {
            int colon = text.indexOf(':');
            String ohm = colon < 0 ? text : text.substring(0, colon);
            double pf = colon < 0
                    ? 0
                    : Options.parsed("--load", text.substring(colon + 1), new Range("pF", 0, HIGHEST_PF, "1500:470"));
            out.add(new MatchRequest.Load(Options.parsed("--load", ohm, ohms), pf));
        }
        return out;
    }

    private MatchRequest.Line line() throws UsageException {
        if (options.has("--cable") != options.has("--cable-pf")) {
            throw new UsageException((options.has("--cable") ? "--cable-pf" : "--cable")
                    + " is missing; give --cable in metres and --cable-pf in picofarads per metre together");
        }
        return new MatchRequest.Line(
                or(options.number("--cable", new Range("m", 0, LONGEST_METRES, "10")), 0),
                or(options.number("--cable-pf", new Range("pF/m", 0, HIGHEST_PF, "90")), 0),
                options.has("--phantom-feeds"));
    }

    private MatchRequest.@Nullable Sound sound() throws UsageException {
        Double sensitivity = above("--sensitivity", "mV/Pa", HIGHEST_PF, "1.5");
        if (sensitivity == null) {
            for (String option : WITH_SENSITIVITY) {
                if (options.has(option)) {
                    throw new UsageException(option + " is given without --sensitivity, from which level and noise"
                            + " follow; give the open-circuit sensitivity of the microphone in mV/Pa");
                }
            }
            return null;
        }
        return new MatchRequest.Sound(
                sensitivity,
                or(options.number("--sensitivity-tolerance", new Range("dB", 0, MOST_DB, "2")), 0),
                or(decibels("--spl", "dB", "80"), MatchRequest.Sound.USUAL_SPL_DB),
                or(decibels("--target", "dBu", "4"), MatchRequest.Sound.USUAL_TARGET_DBU));
    }

    private Electronics electronics() throws UsageException {
        Double ein = decibels("--ein", "dBu", "-127");
        if (ein != null && options.has("--voltage-noise")) {
            throw new UsageException("--ein and --voltage-noise are both given; give the one that is known");
        }
        if (ein == null && options.has("--ein-source")) {
            throw new UsageException("--ein-source is given without --ein, which it belongs to; give both");
        }
        return new Electronics(
                decibels("--gain", "dB", "60"),
                ein,
                options.number("--ein-source", new Range("Ω", 0, HIGHEST_OHM, "150")),
                options.number("--voltage-noise", new Range("nV/√Hz", 0, MOST_NOISE, "1.2")),
                options.number("--current-noise", new Range("pA/√Hz", 0, MOST_NOISE, "1.5")));
    }

    private MatchRequest.@Nullable Booster booster() throws UsageException {
        Double ohm = above("--booster", "Ω", HIGHEST_OHM, "20000");
        Double gain = decibels("--booster-gain", "dB", "25");
        if (ohm == null || gain == null) {
            String first = Stream.of("--booster", "--booster-gain", "--booster-output", "--booster-noise")
                    .filter(options::has)
                    .findFirst()
                    .orElse(null);
            if (first != null) {
                throw new UsageException((ohm == null ? "--booster" : "--booster-gain") + " is missing beside " + first
                        + "; give the booster's input resistance in ohms and its gain in decibels");
            }
            return null;
        }
        return new MatchRequest.Booster(
                ohm,
                or(options.number("--booster-output", new Range("Ω", 0, HIGHEST_OHM, "150")), 0),
                new Electronics(
                        gain,
                        null,
                        null,
                        options.number("--booster-noise", new Range("nV/√Hz", 0, MOST_NOISE, "1.3")),
                        null));
    }

    private @Nullable Double decibels(String option, String unit, String example) throws UsageException {
        return options.number(option, new Range(unit, -MOST_DB, MOST_DB, example));
    }

    private @Nullable Double above(String option, String unit, double highest, String example) throws UsageException {
        return options.number(option, Range.above0(unit, highest, example));
    }

    private static double or(@Nullable Double value, double otherwise) {
        return value == null ? otherwise : value;
    }
}
