package ohmprint.cli;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.plan.LoadPlan;
import ohmprint.app.plan.LoadPlan.LoadSet;
import ohmprint.app.plan.PlanRequest;
import ohmprint.cli.ValueFormat.Range;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.Permitted;
import ohmprint.json.PlanJson;
import ohmprint.text.Numbers;

/** {@code plan}: the loads of a session are chosen. */
final class PlanCommand extends Command {
    /** Its name. */
    static final String NAME = "plan";

    /** What it is for. */
    static final String HEADER = "Which resistors to use, before a session is recorded.";

    private static final Parameter<Double> IMPEDANCE = Parameter.option(
            "--impedance",
            "OHM",
            "Expected impedance in ohms, the same at all frequencies.",
            Range.of(Permitted.OHM, "300"));
    private static final Parameter<String> TRANSDUCER = Parameter.option(
            "--transducer", "TYPE", "Instead: a usual microphone of this type, moving-coil, ribbon or condenser.");
    private static final Parameter<String> CURVE = Parameter.option(
            "--curve",
            "FILE",
            "Instead: a curve that was measured, a curve.json or the folder that holds it.",
            ValueFormat.filled("the path of a curve.json or of its folder"));
    private static final Parameter<Double> INPUT = Parameter.option(
                    "--input",
                    "OHM",
                    "Resistance of the recording input in ohms; required.",
                    Range.of(Permitted.OHM, "3000"))
            .required("give the resistance of the recording input in ohms, for example --input 3000");
    private static final Parameter<Double> INPUT_TOLERANCE = Parameter.option(
                    "--input-tolerance", "PERCENT", "Its tolerance.", Range.percent("1"))
            .usually(PlanRequest.DEFAULT_INPUT_TOLERANCE_PERCENT);
    private static final Parameter<Double> INPUT_PF = Parameter.option(
                    "--input-pf",
                    "PF",
                    "Its capacitance with the cable in picofarads.",
                    Range.from0(Permitted.PICOFARAD, "470"))
            .usually(0.0);
    private static final Parameter<Double> FROM = Parameter.option(
            "--from",
            "HZ",
            "Lowest midband in hertz (default: 20, or that of the curve).",
            Range.of(Permitted.HERTZ, "20"));
    private static final Parameter<Double> TO = Parameter.option(
            "--to",
            "HZ",
            "Highest midband in hertz (default: 20000, or that of the curve).",
            Range.of(Permitted.HERTZ, "20000"));
    private static final Parameter<Double> DRIFT = Parameter.option(
                    "--drift", "PERCENT", "Standard uncertainty of the level from take to take.", Range.percent("1"))
            .usually(PlanRequest.Bench.USUAL.driftPercent(), ", as measure assumes");
    private static final Parameter<Double> TOLERANCE = Parameter.option(
                    "--tolerance", "PERCENT", "Tolerance of the resistors.", Range.percent("1"))
            .usually(PlanRequest.Resistors.USUAL.tolerancePercent());
    private static final Parameter<Double> SNR = Parameter.option(
                    "--snr",
                    "DB",
                    "Signal over noise of a take without a resistor, as snr_db of a result.",
                    new Range("dB", 0, 160, "40"))
            .usually(PlanRequest.Bench.USUAL.snrDb());
    private static final Parameter<Double> SECONDS = Parameter.option(
                    "--seconds", "S", "Length of the sweep in seconds.", Range.above0("s", 3600, "10"))
            .usually(PlanRequest.Bench.USUAL.seconds());
    private static final Parameter<String> SERIES = Parameter.option(
                    "--series", "SERIES", "Resistors to choose from: E12, E24 or E96.")
            .usually(PlanRequest.Resistors.USUAL.series());
    private static final Parameter<List<Double>> STOCK = Parameter.option(
            "--stock",
            "OHM,OHM,...",
            "Instead: the resistors in the drawer, for example 100,220,470.",
            PlanCommand::stock);
    private static final Parameter<Double> MINIMUM_LOAD = Parameter.option(
            "--minimum-load",
            "OHM",
            "Smallest load that the maker allows: lower ones are left out.",
            Range.of(Permitted.OHM, "200"));
    private static final Parameter<Double> WANTED = Parameter.option(
            "--wanted",
            "PERCENT",
            "Wanted 95 %% uncertainty: tells the length of sweep that reaches it.",
            Range.above0("%", 100, "2"));

    private final UseCase<PlanRequest, LoadPlan> useCase;

    /** A command that plans by {@link ohmprint.app.plan.PlanLoads#run} or, in tests, otherwise. */
    PlanCommand(UseCase<PlanRequest, LoadPlan> useCase) {
        super(
                NAME,
                HEADER,
                new Usage(
                        "Chooses two, three and four loads, open (no resistor) among them, that give the lowest"
                                + " predicted 95 %% uncertainty of |Z| in the worst twelfth octave, with the order of the"
                                + " takes (the first load once more at the end) and what a change would give. Sets are"
                                + " printed best first. The prediction uses the equations of measure; noise counts as"
                                + " equal in all takes.",
                        Usage.example("plan --impedance 300 --input 3000 --stock 100,220,470 --wanted 2")
                                + Usage.EXIT_CODES
                                + Usage.CAUTIONS,
                        IMPEDANCE,
                        TRANSDUCER,
                        CURVE,
                        INPUT,
                        INPUT_TOLERANCE,
                        INPUT_PF,
                        FROM,
                        TO,
                        DRIFT,
                        TOLERANCE,
                        SNR,
                        SECONDS,
                        SERIES,
                        STOCK,
                        MINIMUM_LOAD,
                        WANTED,
                        Parameter.JSON));
        this.useCase = useCase;
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        LoadPlan plan = useCase.run(request(given), Progress.SILENT);
        console.tell(plan.sets().stream()
                .flatMap(set -> set.findings().stream())
                .distinct()
                .toList());
        if (given.has(Parameter.JSON)) {
            PlanJson.plan(plan).print(console.out());
        } else {
            print(plan, console);
        }
        return ExitCode.DONE;
    }

    private static PlanRequest request(Options given) throws UsageException {
        PlanRequest.Expected expected = expected(given);
        double input = given.get(INPUT);
        Double from = given.find(FROM);
        Double to = given.find(TO);
        Options.requireOrder(
                from == null ? MeasureRequest.DEFAULT_FROM_HZ : from, to == null ? MeasureRequest.DEFAULT_TO_HZ : to);
        return new PlanRequest(
                expected,
                input,
                given.get(INPUT_TOLERANCE),
                given.get(INPUT_PF),
                from,
                to,
                new PlanRequest.Bench(given.get(DRIFT), given.get(SNR), given.get(SECONDS)),
                resistors(given),
                given.find(WANTED));
    }

    private static PlanRequest.Expected expected(Options given) throws UsageException {
        Double ohm = given.find(IMPEDANCE);
        String transducer = given.find(TRANSDUCER);
        String curve = given.find(CURVE);
        long ways = Stream.of(IMPEDANCE, TRANSDUCER, CURVE).filter(given::has).count();
        if (ways != 1) {
            throw new UsageException((ways == 0
                            ? "the expected impedance is missing"
                            : "the expected impedance is given " + ways + " times")
                    + "; give one of --impedance OHM, --transducer TYPE and --curve FILE");
        }
        return new PlanRequest.Expected(ohm, transducer, curve);
    }

    private static PlanRequest.Resistors resistors(Options given) throws UsageException {
        if (given.has(SERIES) && given.has(STOCK)) {
            throw new UsageException("--series and --stock are both given; give the one to choose from");
        }
        return new PlanRequest.Resistors(
                given.get(SERIES), given.or(STOCK, List.of()), given.get(TOLERANCE), given.find(MINIMUM_LOAD));
    }

    /** The word for no resistor is understood, though that is always among the choices. */
    private static List<Double> stock(String what, String text) throws UsageException {
        ValueFormat<Double> load = ValueFormat.load("100,220,470");
        List<Double> out = new ArrayList<>();
        for (String part : text.split(",", -1)) {
            double ohm = load.read(what, part.strip());
            if (Double.isFinite(ohm)) {
                out.add(ohm);
            }
        }
        if (out.isEmpty()) {
            throw new UsageException(what + " holds no resistor; give values in ohms, for example 100,220,470");
        }
        return out;
    }

    /** What was assumed, the sets, what changes would give. */
    private static void print(LoadPlan plan, Console console) {
        console.line("expected", plan.expected());
        int last = plan.bands().size() - 1;
        console.line(
                "bands",
                Numbers.frequency(plan.bands().midband(0)) + " to "
                        + Numbers.frequency(plan.bands().midband(last)) + " (1/"
                        + plan.bands().fraction() + " octave)");
        console.line("input", plan.input());
        console.line(
                "takes",
                "sweep of " + Numbers.brief(plan.bench().seconds()) + " s, signal "
                        + Numbers.brief(plan.bench().snrDb()) + " dB over noise, level drift "
                        + Numbers.brief(plan.bench().driftPercent()) + " %, resistors ± "
                        + Numbers.brief(plan.tolerancePercent()) + " %");
        console.line();
        TextTable table =
                TextTable.ofNumbers("loads Ω", "worst ± 95 %", "at", "median ± 95 %", "limited by", "careful");
        for (LoadSet set : plan.sets()) {
            table.row(
                    loads(set.loadsOhm()),
                    TerminalText.percent(set.predicted().worst()),
                    Numbers.frequency(set.worstHz()),
                    TerminalText.percent(set.predicted().median()),
                    set.worstBudget().largest().word(),
                    set.findings().isEmpty() ? "" : set.findings().get(0).code().word());
        }
        table.print(console.out());
        console.line();
        printBest(plan, plan.sets().get(0), console);
        if (!plan.notes().isEmpty()) {
            console.line();
            plan.notes().forEach(console::line);
        }
    }

    private static void printBest(LoadPlan plan, LoadSet best, Console console) {
        console.line(
                "best",
                "take in this order: " + loads(best.takeOrderOhm()) + " (the first load once more shows the drift)");
        CauseOrigin cause = best.worstBudget().largest();
        double share =
                Math.pow(best.worstBudget().of(cause) / best.worstBudget().combined(), 2);
        console.line(
                "limited by",
                cause.word() + ", " + Numbers.digits(100 * share, 2) + " % of the variance at "
                        + Numbers.frequency(best.worstHz()) + ", where |Z| is " + Numbers.digits(best.worstOhm(), 3)
                        + " Ω");
        Double seconds = best.secondsForWanted();
        Double wanted = plan.wantedPercent();
        if (seconds != null && wanted != null) {
            console.line(
                    "wanted",
                    Numbers.brief(wanted) + " % in all bands "
                            + (Double.isInfinite(seconds)
                                    ? "is out of reach of any length of sweep: drift, resistors and input alone exceed it"
                                    : "takes a sweep of " + Numbers.digits(seconds, 2) + " s"));
        }
        console.line();
        console.line("What a change to it would give (worst, median)");
        for (LoadPlan.Change change : best.changes()) {
            console.line("  " + change.change() + ": "
                    + TerminalText.percent(change.predicted().worst()) + ", "
                    + TerminalText.percent(change.predicted().median()));
        }
    }

    private static String loads(List<Double> ohms) {
        return ohms.stream()
                .map(ohm -> Double.isInfinite(ohm) ? "open" : Numbers.brief(ohm))
                .collect(Collectors.joining(", "));
    }
}
