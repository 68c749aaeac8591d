package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.match.LevelPrediction;
import ohmprint.app.match.LoadPrediction;
import ohmprint.app.match.MatchCurve;
import ohmprint.app.match.MatchOutcome;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.match.MatchRequest.Electronics;
import ohmprint.app.match.Matching;
import ohmprint.cli.ValueFormat.Range;
import ohmprint.impedance.Permitted;
import ohmprint.impedance.PredictedValue;
import ohmprint.json.MatchJson;
import ohmprint.text.Numbers;
import ohmprint.text.Rounded;
import org.jspecify.annotations.Nullable;

/** {@code match}: which input suits a microphone, and at what level. */
final class MatchCommand extends Command {
    /** Its name. */
    static final String NAME = "match";

    /** What it is for. */
    static final String HEADER = "Which input suits the microphone: loss, change of response, level and noise.";

    private static final Parameter<String> CURVE = Parameter.argument(
            0,
            "CURVE",
            "A curve.json, the folder of a result, or the session that holds it.",
            ValueFormat.filled("a curve.json or the folder of a result"));
    private static final Parameter<MatchRequest.Load> LOAD = Parameter.option(
                    "--load",
                    "OHM[:PF]",
                    "An input by its ohms, with picofarads across it; may be repeated.",
                    MatchCommand::load)
            .repeatable();
    private static final Parameter<Path> INPUT_CURVE = Parameter.option(
                    "--input-curve",
                    "FILE",
                    "A measured input curve, a CSV file; may be repeated.",
                    ValueFormat.path("the path of a measured input curve"))
            .repeatable();
    private static final Parameter<Path> INPUTS = Parameter.option(
            "--inputs",
            "FILE",
            "A YAML file that lists inputs and boosters.",
            ValueFormat.path("the path of a file that lists inputs"));
    private static final Parameter<Double> CABLE = Parameter.option(
            "--cable", "M", "Length of the cable to each input in metres.", new Range("m", 0, 10_000, "10"));
    private static final Parameter<Double> CABLE_PF = Parameter.option(
            "--cable-pf",
            "PF",
            "Its capacitance in picofarads per metre.",
            new Range("pF/m", 0, Permitted.PICOFARAD.most(), "90"));
    private static final Parameter<String> PHANTOM_FEEDS =
            Parameter.flag("--phantom-feeds", "Add the two 6.81 kilohms of a phantom supply to the inputs by option.");
    private static final Parameter<Double> FROM = Parameter.option(
                    "--from", "HZ", "Lowest frequency in hertz.", Range.of(Permitted.HERTZ, "20"))
            .usually(MatchRequest.Range.AUDIBLE.fromHz());
    private static final Parameter<Double> TO = Parameter.option(
                    "--to", "HZ", "Highest frequency in hertz.", Range.of(Permitted.HERTZ, "20000"))
            .usually(MatchRequest.Range.AUDIBLE.toHz());
    private static final Parameter<Double> SENSITIVITY = Parameter.option(
            "--sensitivity",
            "MV",
            "Open-circuit sensitivity in mV/Pa at 1 kHz: tells level and noise.",
            Range.above0("mV/Pa", 1e6, "1.5"));
    private static final Parameter<Double> SENSITIVITY_TOLERANCE = Parameter.option(
                    "--sensitivity-tolerance",
                    "DB",
                    "Its tolerance in decibels to either side.",
                    new Range("dB", 0, 200, "2"))
            .usually(0.0);
    private static final Parameter<Double> SPL = Parameter.option(
                    "--spl", "DB", "Sound pressure level of the source.", decibels("dB", "80"))
            .usually(MatchRequest.Sound.USUAL_SPL_DB);
    private static final Parameter<Double> TARGET = Parameter.option(
                    "--target", "DBU", "Level wanted behind the gain.", decibels("dBu", "4"))
            .usually(MatchRequest.Sound.USUAL_TARGET_DBU);
    private static final Parameter<Double> GAIN =
            Parameter.option("--gain", "DB", "Greatest gain behind the inputs by option.", decibels("dB", "60"));
    private static final Parameter<Double> EIN = Parameter.option(
            "--ein", "DBU", "Their equivalent input noise, unweighted, 20 Hz to 20 kHz.", decibels("dBu", "-127"));
    private static final Parameter<Double> EIN_SOURCE = Parameter.option(
            "--ein-source",
            "OHM",
            "Resistor that it was measured with, 0 for a short (default: "
                    + Numbers.exact(Electronics.USUAL_EIN_SOURCE_OHM) + ").",
            Range.from0(Permitted.OHM, "150"));
    private static final Parameter<Double> VOLTAGE_NOISE = Parameter.option(
            "--voltage-noise", "NV", "Instead: their voltage noise in nV/√Hz.", noise("nV/√Hz", "1.2"));
    private static final Parameter<Double> CURRENT_NOISE =
            Parameter.option("--current-noise", "PA", "Their current noise in pA/√Hz.", noise("pA/√Hz", "1.5"));
    private static final Parameter<Double> BOOSTER = Parameter.option(
            "--booster",
            "OHM",
            "Input resistance of a booster before each input; needs --booster-gain.",
            Range.of(Permitted.OHM, "20000"));
    private static final Parameter<Double> BOOSTER_GAIN =
            Parameter.option("--booster-gain", "DB", "Its gain.", decibels("dB", "25"));
    private static final Parameter<Double> BOOSTER_OUTPUT = Parameter.option(
                    "--booster-output", "OHM", "Its output resistance.", Range.from0(Permitted.OHM, "150"))
            .usually(0.0);
    private static final Parameter<Double> BOOSTER_NOISE =
            Parameter.option("--booster-noise", "NV", "Its voltage noise in nV/√Hz.", noise("nV/√Hz", "1.3"));
    private static final Parameter<Double> CELSIUS = Parameter.option(
                    "--celsius", "DEGREES", "Temperature.", new Range("°C", -60, 100, "20"))
            .usually(MatchRequest.ROOM_CELSIUS);
    private static final Parameter<Path> OUT = Parameter.option(
            "--out",
            "DIR",
            "Write tables and pictures to this folder, all of them or none.",
            ValueFormat.path("the path of a folder"));
    private static final Parameter<String> THEME = Parameter.option(
                    "--theme", "THEME", "Pictures light or dark.", ValueFormat.word(List.of("light", "dark")))
            .usually("light");

    MatchCommand() {
        super(
                NAME,
                HEADER,
                new Usage(
                        "Tells what each input takes from the microphone (loss in decibels, positive), how the"
                                + " response changes re 1 kHz, the tilt (greatest less least loss over the bands), the"
                                + " least load for a loss of 1 dB and for a tilt of 0.5 dB, and ten times the greatest"
                                + " impedance of the band. With --sensitivity also level, gain and noise. Uncertainties are"
                                + " for 95 %%. Nothing is claimed outside the measured bands. Without inputs a variable"
                                + " load of 150 ohms to 40 kilohms is shown.",
                        Usage.example(
                                        "match bench-ribbon-7 --load 1500 --load 3000:470 --cable 10 --cable-pf 90",
                                        "match bench-ribbon-7 --inputs workshop.yaml --sensitivity 1.2 --spl 80 --out match")
                                + Usage.EXIT_CODES,
                        CURVE,
                        LOAD,
                        INPUT_CURVE,
                        INPUTS,
                        CABLE,
                        CABLE_PF,
                        PHANTOM_FEEDS,
                        FROM,
                        TO,
                        SENSITIVITY,
                        SENSITIVITY_TOLERANCE,
                        SPL,
                        TARGET,
                        GAIN,
                        EIN,
                        EIN_SOURCE,
                        VOLTAGE_NOISE,
                        CURRENT_NOISE,
                        BOOSTER,
                        BOOSTER_GAIN,
                        BOOSTER_OUTPUT,
                        BOOSTER_NOISE,
                        CELSIUS,
                        OUT,
                        THEME,
                        Parameter.JSON));
    }

    private static Range decibels(String unit, String example) {
        return new Range(unit, -200, 200, example);
    }

    private static Range noise(String unit, String example) {
        return new Range(unit, 0, 1e6, example);
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        MatchOutcome outcome = MatchCurve.run(request(given));
        console.tell(outcome.findings());
        if (given.has(Parameter.JSON)) {
            MatchJson.outcome(outcome).print(console.out());
        } else {
            print(outcome, console);
        }
        return ExitCode.DONE;
    }

    private static MatchRequest request(Options given) throws UsageException {
        String curve = given.get(CURVE);
        List<Path> inputCurves = given.all(INPUT_CURVE);
        boolean dark = given.get(THEME).equals("dark");
        double from = given.get(FROM);
        double to = given.get(TO);
        Options.requireOrder(from, to);
        return new MatchRequest(
                curve,
                new MatchRequest.Range(from, to),
                given.all(LOAD),
                inputCurves,
                given.find(INPUTS),
                line(given),
                sound(given),
                electronics(given),
                booster(given),
                given.get(CELSIUS),
                given.find(OUT),
                dark);
    }

    private static MatchRequest.Load load(String what, String text) throws UsageException {
        int colon = text.indexOf(':');
        double pf = colon < 0 ? 0 : Range.from0(Permitted.PICOFARAD, "1500:470").read(what, text.substring(colon + 1));
        Range ohms = Range.of(Permitted.OHM, "1500, or 1500:470 with picofarads");
        return new MatchRequest.Load(ohms.read(what, colon < 0 ? text : text.substring(0, colon)), pf);
    }

    private static MatchRequest.Line line(Options given) throws UsageException {
        if (given.has(CABLE) != given.has(CABLE_PF)) {
            throw new UsageException((given.has(CABLE) ? CABLE_PF : CABLE).name()
                    + " is missing; give --cable in metres and --cable-pf in picofarads per metre together");
        }
        return new MatchRequest.Line(given.or(CABLE, 0.0), given.or(CABLE_PF, 0.0), given.has(PHANTOM_FEEDS));
    }

    private static MatchRequest.@Nullable Sound sound(Options given) throws UsageException {
        Double sensitivity = given.find(SENSITIVITY);
        if (sensitivity == null) {
            for (Parameter<?> option : List.of(
                    SENSITIVITY_TOLERANCE,
                    SPL,
                    TARGET,
                    GAIN,
                    EIN,
                    EIN_SOURCE,
                    VOLTAGE_NOISE,
                    CURRENT_NOISE,
                    BOOSTER_NOISE,
                    CELSIUS)) {
                if (given.has(option)) {
                    throw new UsageException(
                            option.name() + " is given without --sensitivity, from which level and noise"
                                    + " follow; give the open-circuit sensitivity of the microphone in mV/Pa");
                }
            }
            return null;
        }
        return new MatchRequest.Sound(sensitivity, given.get(SENSITIVITY_TOLERANCE), given.get(SPL), given.get(TARGET));
    }

    private static Electronics electronics(Options given) throws UsageException {
        Double ein = given.find(EIN);
        if (ein != null && given.has(VOLTAGE_NOISE)) {
            throw new UsageException("--ein and --voltage-noise are both given; give the one that is known");
        }
        if (ein == null && given.has(EIN_SOURCE)) {
            throw new UsageException("--ein-source is given without --ein, which it belongs to; give both");
        }
        return new Electronics(
                given.find(GAIN), ein, given.find(EIN_SOURCE), given.find(VOLTAGE_NOISE), given.find(CURRENT_NOISE));
    }

    private static MatchRequest.@Nullable Booster booster(Options given) throws UsageException {
        Double ohm = given.find(BOOSTER);
        Double gain = given.find(BOOSTER_GAIN);
        if (ohm == null || gain == null) {
            for (Parameter<?> first : List.of(BOOSTER, BOOSTER_GAIN, BOOSTER_OUTPUT, BOOSTER_NOISE)) {
                if (given.has(first)) {
                    throw new UsageException((ohm == null ? BOOSTER : BOOSTER_GAIN).name() + " is missing beside "
                            + first.name()
                            + "; give the booster's input resistance in ohms and its gain in decibels");
                }
            }
            return null;
        }
        return new MatchRequest.Booster(
                ohm, given.get(BOOSTER_OUTPUT), new Electronics(gain, null, null, given.find(BOOSTER_NOISE), null));
    }

    /** What holds for the microphone, a line per input, level and noise where asked for, notes. */
    private static void print(MatchOutcome outcome, Console console) {
        console.line("microphone", outcome.measurement().microphone().label());
        console.line(
                "curve",
                outcome.curve() + ", " + outcome.measurement().curve().quantity() + ", "
                        + outcome.measurement().usability().word());
        Matching.Coverage c = outcome.coverage();
        console.line(
                "measured",
                Numbers.frequency(c.lowestHz()) + " to " + Numbers.frequency(c.highestHz()) + ", "
                        + (c.bands() - c.gaps() - c.bounded()) + " of " + c.bands() + " bands with a value");
        List<String> across = across(outcome.request().line());
        if (!across.isEmpty()) {
            console.line("across", String.join(", ", across));
        }
        PredictedValue tenTimes = outcome.tenTimes();
        console.line(
                "ten times",
                TerminalText.ohms(tenTimes) + ", the greatest impedance is at " + TerminalText.frequency(tenTimes));
        console.line(
                "least load",
                least(outcome.leastForLoss()) + " for a loss of 1 dB, " + least(outcome.leastForTilt())
                        + " for a tilt of 0.5 dB");
        console.line();
        List<LoadPrediction> shown = outcome.inputs().isEmpty() ? outcome.family() : outcome.inputs();
        printLoss(shown, console);
        if (outcome.request().sound() != null) {
            console.line();
            printLevel(
                    outcome.request().sound(),
                    Stream.concat(shown.stream(), outcome.chains().stream()).toList(),
                    console);
        }
        console.line();
        outcome.notes().forEach(console::line);
        if (outcome.folder() != null) {
            console.line("written", outcome.folder() + ": " + String.join(", ", outcome.files()));
        }
    }

    private static List<String> across(MatchRequest.Line line) {
        List<String> parts = new ArrayList<>();
        if (line.cableMetres() * line.cablePfPerMetre() > 0) {
            parts.add("cable of " + Numbers.exact(line.cableMetres()) + " m with "
                    + Numbers.digits(line.cableMetres() * line.cablePfPerMetre(), 3) + " pF ± 20 %");
        }
        if (line.phantomFeeds()) {
            parts.add("phantom feeds of 13.62 kΩ (inputs by option)");
        }
        return parts;
    }

    private static String least(Matching.LeastResistance least) {
        if (least.any()) {
            return "any";
        }
        if (!least.ohm().isValue() && !least.ohm().isBounded()) {
            return "none";
        }
        boolean open = Double.isInfinite(least.upToOhm()) || Double.isNaN(least.upToOhm());
        return TerminalText.ohms(least.ohm())
                + (open ? "" : " (and no more than " + Numbers.digits(least.upToOhm(), 3) + " Ω)");
    }

    private static void printLoss(List<LoadPrediction> shown, Console console) {
        TextTable table = TextTable.ofNamedNumbers(
                "input",
                "worst loss dB",
                "at",
                "at 1 kHz dB",
                "tilt dB",
                "most re 1 kHz dB",
                "at",
                "least ratio",
                "ten times");
        for (LoadPrediction p : shown) {
            table.row(
                    p.name(),
                    TerminalText.predicted(p.worstLoss()),
                    TerminalText.frequency(p.worstLoss()),
                    TerminalText.predicted(p.lossAtReference()),
                    TerminalText.predicted(p.tilt()),
                    TerminalText.predicted(p.largestChange()),
                    TerminalText.frequency(p.largestChange()),
                    TerminalText.predicted(p.leastRatio()),
                    p.tenTimes().word());
        }
        table.print(console.out());
    }

    private static void printLevel(MatchRequest.Sound sound, List<LoadPrediction> shown, Console console) {
        console.line("Level at the input with " + Numbers.exact(sound.sensitivityMv()) + " mV/Pa, "
                + Numbers.exact(sound.splDb()) + " dB SPL, 1 kHz; gain for "
                + Numbers.exact(sound.targetDbu()) + " dBu");
        TextTable levels = TextTable.ofNamedNumbers(
                "input", "level dBu", "mV", "gain needed dB", "there is dB", "spare dB", "enough");
        TextTable noise = TextTable.ofNamedNumbers(
                "input",
                "thermal dBu",
                "with amplifier dBu",
                "equivalent dB SPL",
                "equivalent dB(A)",
                "cost of the load dB");
        for (LoadPrediction p : shown) {
            LevelPrediction l = p.level();
            if (l != null) {
                Double gain = l.availableGainDb();
                levels.row(
                        p.name(),
                        TerminalText.tenths(l.levelDbu()),
                        TerminalText.millivolt(l.millivolt()),
                        TerminalText.tenths(l.neededGainDb()),
                        gain == null ? Rounded.NONE : TerminalText.tenths(PredictedValue.of(gain, 0, Double.NaN)),
                        TerminalText.tenths(l.spareGainDb()),
                        gain == null ? Rounded.NONE : l.enough().word());
                noise.row(
                        p.name(),
                        TerminalText.tenths(l.thermalDbu()),
                        TerminalText.tenths(l.totalDbu()),
                        TerminalText.tenths(l.equivalentDb()),
                        TerminalText.tenths(l.equivalentADb()),
                        TerminalText.tenths(l.penaltyDb()));
            }
        }
        levels.print(console.out());
        console.line();
        LevelPrediction first = shown.get(0).level();
        console.line("Noise at the input"
                + (first == null
                        ? ""
                        : ", counted over " + Numbers.digits(first.coveredHz() / 1000, 3) + " kHz of measured bands"));
        noise.print(console.out());
    }
}
