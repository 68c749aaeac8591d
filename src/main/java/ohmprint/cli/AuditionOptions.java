package ohmprint.cli;

import java.nio.file.Path;
import ohmprint.app.audition.AuditionRequest;
import ohmprint.cli.Options.Range;
import ohmprint.curve.Permitted;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.ParseResult;

/** Reads the options of {@code audition}; every objection names option, value, unit and what is possible. */
final class AuditionOptions {
    private static final double HIGHEST_OHM = Permitted.OHM.most();
    private static final double HIGHEST_PF = Permitted.PICOFARAD.most();
    private static final String A_FILE = "the path of a file";

    private final Options options;

    private AuditionOptions(Options options) {
        this.options = options;
    }

    /** What {@code audition} was asked to do. */
    static AuditionRequest request(ParseResult given) throws UsageException {
        return new AuditionOptions(Options.of(given)).request();
    }

    private AuditionRequest request() throws UsageException {
        Path take = Options.path("TAKE", options.argument(0), "the path of a recording");
        String curve = required("--curve", "a curve.json or the folder of a result, for example --curve result");
        if (curve.isEmpty()) {
            throw new UsageException("--curve is empty; give the path of a curve.json or of its folder");
        }
        double from = load("--from");
        double to = load("--to");
        Double input = ohms("--input");
        double pf = picofarads("--input-pf", 0);
        Double toInput = ohms("--to-input");
        if (input == null && (toInput != null || options.has("--input-pf") || options.has("--to-input-pf"))) {
            throw new UsageException(
                    "--input is missing; give the resistance of the recording input in ohms, for example --input 3000");
        }
        double toPf = picofarads("--to-input-pf", toInput == null ? pf : 0);
        required("--out", "the file for the result, for example --out open.wav");
        Path out = Options.path("--out", String.valueOf(options.text("--out")), A_FILE);
        return new AuditionRequest(
                take,
                curve,
                AuditionRequest.Side.of(from, input, pf),
                AuditionRequest.Side.of(to, toInput == null ? input : toInput, toPf),
                channel(),
                options.has("--level-matched"),
                out,
                comparison(out));
    }

    private String required(String option, String wanted) throws UsageException {
        String text = options.text(option);
        if (text == null) {
            throw new UsageException(option + " is missing; give " + wanted);
        }
        return text;
    }

    private double load(String option) throws UsageException {
        String text = required(option, "the load in ohms, or open, for example " + option + " 150");
        return text.equals("open")
                ? Double.POSITIVE_INFINITY
                : Options.parsed(option, text, Range.above0("Ω", HIGHEST_OHM, "150, or open"));
    }

    private @Nullable Double ohms(String option) throws UsageException {
        return options.number(option, Range.above0("Ω", HIGHEST_OHM, "3000"));
    }

    private double picofarads(String option, double otherwise) throws UsageException {
        Double value = options.number(option, new Range("pF", 0, HIGHEST_PF, "470"));
        return value == null ? otherwise : value;
    }

    private @Nullable Integer channel() throws UsageException {
        String text = options.text("--channel");
        if (text == null) {
            return null;
        }
        if (!text.matches("[1-9][0-9]{0,4}")) {
            throw new UsageException("--channel holds " + text + "; give a channel counted from 1, for example 1");
        }
        return Integer.valueOf(text);
    }

    private @Nullable Path comparison(Path out) throws UsageException {
        Path asked = options.path("--ab", A_FILE);
        if (options.has("--no-ab")) {
            if (asked != null) {
                throw new UsageException("--ab and --no-ab are both given; give one of them");
            }
            return null;
        }
        String name = String.valueOf(out.getFileName());
        int dot = name.lastIndexOf('.');
        String stem = dot > 0 ? name.substring(0, dot) : name;
        return asked == null ? out.resolveSibling(stem + "-ab.wav") : asked;
    }
}
