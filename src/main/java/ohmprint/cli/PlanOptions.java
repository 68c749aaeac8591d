package ohmprint.cli;

import java.util.ArrayList;
import java.util.List;
import ohmprint.app.MeasureRequest;
import ohmprint.app.PlanRequest;
import ohmprint.cli.Options.Range;
import ohmprint.curve.Permitted;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.ParseResult;

/** Reads the options of {@code plan}; every objection names option, value, unit and what is possible. */
final class PlanOptions {
    private static final double HIGHEST_OHM = Permitted.OHM.most();
    private static final double HIGHEST_PF = Permitted.PICOFARAD.most();
    private static final double HIGHEST_HZ = Permitted.HERTZ.most();
    private static final double HIGHEST_DB = 160;
    private static final double LONGEST_SECONDS = 3600;

    private final Options options;

    private PlanOptions(Options options) {
        this.options = options;
    }

    /** What {@code plan} was asked to do. */
    static PlanRequest request(ParseResult given) throws UsageException {
        return new PlanOptions(Options.of(given)).request();
    }

    private PlanRequest request() throws UsageException {
        PlanRequest.Expected expected = expected();
        Double input = above("--input", "Ω", HIGHEST_OHM, "3000");
        if (input == null) {
            throw new UsageException(
                    "--input is missing; give the resistance of the recording input in ohms, for example --input 3000");
        }
        Double from = above("--from", "Hz", HIGHEST_HZ, "20");
        Double to = above("--to", "Hz", HIGHEST_HZ, "20000");
        double low = from == null ? MeasureRequest.DEFAULT_FROM_HZ : from;
        double high = to == null ? MeasureRequest.DEFAULT_TO_HZ : to;
        if (low >= high) {
            throw new UsageException("--from is " + Options.plain(low) + " Hz and --to is " + Options.plain(high)
                    + " Hz; give --from the lower frequency");
        }
        PlanRequest.Bench usual = PlanRequest.Bench.USUAL;
        return new PlanRequest(
                expected,
                input,
                or(tolerance("--input-tolerance"), PlanRequest.DEFAULT_INPUT_TOLERANCE_PERCENT),
                or(options.number("--input-pf", new Range("pF", 0, HIGHEST_PF, "470")), 0),
                from,
                to,
                new PlanRequest.Bench(
                        or(tolerance("--drift"), usual.driftPercent()),
                        or(options.number("--snr", new Range("dB", 0, HIGHEST_DB, "40")), usual.snrDb()),
                        or(above("--seconds", "s", LONGEST_SECONDS, "10"), usual.seconds())),
                resistors(),
                above("--wanted", "%", 100, "2"));
    }

    private PlanRequest.Expected expected() throws UsageException {
        Double ohm = above("--impedance", "Ω", HIGHEST_OHM, "300");
        String transducer = options.text("--transducer");
        String curve = options.text("--curve");
        if (curve != null && curve.isEmpty()) {
            throw new UsageException("--curve is empty; give the path of a curve.json or of its folder");
        }
        long ways = List.of("--impedance", "--transducer", "--curve").stream()
                .filter(options::has)
                .count();
        if (ways != 1) {
            throw new UsageException((ways == 0
                            ? "the expected impedance is missing"
                            : "the expected impedance is given " + ways + " times")
                    + "; give one of --impedance OHM, --transducer TYPE and --curve FILE");
        }
        return new PlanRequest.Expected(ohm, transducer, curve);
    }

    private PlanRequest.Resistors resistors() throws UsageException {
        PlanRequest.Resistors usual = PlanRequest.Resistors.USUAL;
        String series = options.text("--series");
        if (series != null && options.has("--stock")) {
            throw new UsageException("--series and --stock are both given; give the one to choose from");
        }
        return new PlanRequest.Resistors(
                series == null ? usual.series() : series,
                stock(),
                or(tolerance("--tolerance"), usual.tolerancePercent()),
                above("--minimum-load", "Ω", HIGHEST_OHM, "200"));
    }

    private List<Double> stock() throws UsageException {
        List<Double> out = new ArrayList<>();
        String text = options.text("--stock");
        if (text != null) {
            for (String part : text.split(",", -1)) {
                String value = part.strip();
                // The word for no resistor is understood, though that is always among the choices.
                if (!value.equals("open")) {
                    out.add(Options.parsed("--stock", value, Range.above0("Ω", HIGHEST_OHM, "100,220,470")));
                }
            }
            if (out.isEmpty()) {
                throw new UsageException("--stock holds no resistor; give values in ohms, for example 100,220,470");
            }
        }
        return out;
    }

    private @Nullable Double tolerance(String option) throws UsageException {
        return options.number(option, Range.percent("1"));
    }

    private @Nullable Double above(String option, String unit, double highest, String example) throws UsageException {
        return options.number(option, Range.above0(unit, highest, example));
    }

    private static double or(@Nullable Double value, double otherwise) {
        return value == null ? otherwise : value;
    }
}
