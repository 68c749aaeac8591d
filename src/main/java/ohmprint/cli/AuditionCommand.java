package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.audition.AuditionOutcome;
import ohmprint.app.audition.AuditionRequest;
import ohmprint.cli.ValueFormat.Range;
import ohmprint.impedance.Permitted;
import ohmprint.json.JsonObject;
import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;

/** {@code audition}: a take as it would sound into another load. */
final class AuditionCommand extends Command {
    /** Its name. */
    static final String NAME = "audition";

    /** What it is for. */
    static final String HEADER = "A recording made into one load, as it would sound into another.";

    private static final ValueFormat<Path> FILE = ValueFormat.path("the path of a file");
    private static final ValueFormat<Double> LOAD = ValueFormat.load("150, or open");

    private static final Parameter<Path> TAKE = Parameter.argument(
            0, "TAKE", "The recording: WAV, AIFF or FLAC.", ValueFormat.path("the path of a recording"));
    private static final Parameter<String> CURVE = Parameter.option(
                    "--curve",
                    "CURVE",
                    "Impedance of its microphone: a curve.json or the folder that holds it; required.",
                    ValueFormat.filled("the path of a curve.json or of its folder"))
            .required("give a curve.json or the folder of a result, for example --curve result");
    private static final Parameter<Double> FROM = Parameter.option(
                    "--from", "LOAD", "Load resistor of the recording in ohms, or open; required.", LOAD)
            .required("give the load in ohms, or open, for example --from 150");
    private static final Parameter<Double> TO = Parameter.option(
                    "--to", "LOAD", "Load resistor to hear it with, or open; required.", LOAD)
            .required("give the load in ohms, or open, for example --to 150");
    private static final Parameter<Double> INPUT = Parameter.option(
                    "--input",
                    "OHM",
                    "Resistance of the recording input in ohms, beside the load; required unless the curve"
                            + " already holds the input.",
                    Range.of(Permitted.OHM, "3000"))
            .required("give the resistance of the recording input in ohms, for example --input 3000");
    private static final Parameter<Double> INPUT_PF = Parameter.option(
                    "--input-pf",
                    "PF",
                    "Its capacitance with the cable in picofarads.",
                    Range.from0(Permitted.PICOFARAD, "470"))
            .usually(0.0);
    private static final Parameter<Double> TO_INPUT = Parameter.option(
            "--to-input",
            "OHM",
            "Resistance of another input to hear it with (default: the same).",
            Range.of(Permitted.OHM, "3000"));
    private static final Parameter<Double> TO_INPUT_PF = Parameter.option(
            "--to-input-pf", "PF", "Its capacitance with the cable.", Range.from0(Permitted.PICOFARAD, "470"));
    private static final Parameter<Integer> CHANNEL = Parameter.option(
            "--channel",
            "N",
            "The only channel to render; others stay as they are (default: all).",
            AuditionCommand::channel);
    private static final Parameter<String> LEVEL_MATCHED =
            Parameter.flag("--level-matched", "Give the result the level of the take, so that only its sound differs.");
    private static final Parameter<Path> OUT = Parameter.option(
                    "--out", "FILE.wav", "File for the result; required, not overwritten.", FILE)
            .required("give the file for the result, for example --out open.wav");
    private static final Parameter<Path> AB = Parameter.option(
            "--ab", "FILE.wav", "File for the comparison (default: the name of the result with -ab).", FILE);
    private static final Parameter<String> NO_AB = Parameter.flag("--no-ab", "Write no comparison.");

    private final UseCase<AuditionRequest, AuditionOutcome> useCase;

    /** A command that renders by {@link ohmprint.app.audition.AuditionTake#run} or, in tests, otherwise. */
    AuditionCommand(UseCase<AuditionRequest, AuditionOutcome> useCase) {
        super(
                NAME,
                HEADER,
                new Usage(
                        "Filters a recording by (1 + Z·ya)/(1 + Z·yb), y being the admittance of load and input, in"
                                + " magnitude and phase. Rate, bit depth, channels and length stay. If the result would"
                                + " clip it is lowered, and the output says by how much. The comparison plays a few"
                                + " passages as recorded and as rendered, in turn. Outside the measured band nothing is"
                                + " claimed.",
                        Usage.example(
                                        "audition take-1.wav --curve result --from 150 --to open --input 3000 --out open.wav")
                                + Usage.EXIT_CODES,
                        TAKE,
                        CURVE,
                        FROM,
                        TO,
                        INPUT,
                        INPUT_PF,
                        TO_INPUT,
                        TO_INPUT_PF,
                        CHANNEL,
                        LEVEL_MATCHED,
                        OUT,
                        AB,
                        NO_AB,
                        Parameter.JSON));
        this.useCase = useCase;
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        AuditionRequest request = request(given);
        AuditionOutcome outcome = console.withProgress(progress -> useCase.run(request, progress));
        if (given.has(Parameter.JSON)) {
            json(outcome).print(console.out());
        } else {
            print(outcome, console);
        }
        outcome.notes().forEach(console::note);
        return ExitCode.DONE;
    }

    private static AuditionRequest request(Options given) throws UsageException {
        Path take = given.get(TAKE);
        String curve = given.get(CURVE);
        double from = given.get(FROM);
        double to = given.get(TO);
        Double input = given.find(INPUT);
        double pf = given.get(INPUT_PF);
        Double toInput = given.find(TO_INPUT);
        if (input == null && Stream.of(TO_INPUT, INPUT_PF, TO_INPUT_PF).anyMatch(given::has)) {
            throw INPUT.missing();
        }
        double toPf = given.or(TO_INPUT_PF, toInput == null ? pf : 0);
        Path out = given.get(OUT);
        return new AuditionRequest(
                take,
                curve,
                AuditionRequest.Side.of(from, input, pf),
                AuditionRequest.Side.of(to, toInput == null ? input : toInput, toPf),
                given.find(CHANNEL),
                given.has(LEVEL_MATCHED),
                out,
                comparison(given, out));
    }

    private static Integer channel(String what, String text) throws UsageException {
        if (!text.matches("[1-9][0-9]{0,4}")) {
            throw new UsageException(what + " holds " + text + "; give a channel counted from 1, for example 1");
        }
        return Integer.valueOf(text);
    }

    private static @Nullable Path comparison(Options given, Path out) throws UsageException {
        Path asked = given.find(AB);
        if (given.has(NO_AB)) {
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

    private static void print(AuditionOutcome outcome, Console console) {
        console.line("microphone", outcome.microphone());
        console.line("from", outcome.from());
        console.line("to", outcome.to());
        console.line(
                "band",
                Numbers.frequency(outcome.lowestHz()) + " to " + Numbers.frequency(outcome.highestHz())
                        + ", where the filter follows the curve");
        console.line();
        console.line("  frequency      change   ± 95 %");
        for (AuditionOutcome.Change change : outcome.changes()) {
            console.line(String.format(
                    Locale.ROOT,
                    "  %9s   %+6.2f dB   %.2f dB",
                    Numbers.frequency(change.frequencyHz()),
                    change.changeDb(),
                    change.u95Db()));
        }
        console.line();
        if (!Double.isNaN(outcome.levelChangeDb())) {
            decibels(console, "level", "%+.2f dB for the whole take", outcome.levelChangeDb());
        }
        if (outcome.matchedByDb() != 0) {
            decibels(console, "matched", "by %+.2f dB to the level of the take", outcome.matchedByDb());
        }
        if (outcome.loweredByDb() > 0) {
            decibels(
                    console,
                    "lowered",
                    "by %.2f dB, or it would clip; the comparison plays the take as much lower",
                    outcome.loweredByDb());
        }
        console.line("written", outcome.out().toString());
        if (outcome.comparison() != null) {
            int passages = outcome.comparisonSeconds().size();
            console.line(
                    "comparison",
                    outcome.comparison() + ": " + passages + (passages == 1 ? " passage" : " passages, each")
                            + " as recorded, then as rendered");
        }
    }

    private static void decibels(Console console, String name, String format, double value) {
        console.line(name, String.format(Locale.ROOT, format, value));
    }

    private static JsonObject json(AuditionOutcome outcome) {
        return new JsonObject()
                .put("microphone", outcome.microphone())
                .put("from", outcome.from())
                .put("to", outcome.to())
                .put("lowest_hz", outcome.lowestHz())
                .put("highest_hz", outcome.highestHz())
                .list(
                        "changes",
                        outcome.changes(),
                        change -> new JsonObject()
                                .put("frequency_hz", change.frequencyHz())
                                .put("change_db", change.changeDb())
                                .put("change_u95_db", change.u95Db()))
                .put("level_change_db", outcome.levelChangeDb())
                .put("matched_by_db", outcome.matchedByDb())
                .put("lowered_by_db", outcome.loweredByDb())
                .put("peak_db", outcome.peakDb())
                .put("file", outcome.out())
                .put("comparison", outcome.comparison())
                .put("passages_s", outcome.comparisonSeconds())
                .put("passage_length_s", outcome.passageSeconds())
                .put("notes", outcome.notes());
    }
}
