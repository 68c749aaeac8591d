package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.report.HandOver;
import ohmprint.app.report.HandOverOutcome;
import ohmprint.app.report.HandOverRequest;
import ohmprint.app.report.HandOverRequest.Form;
import ohmprint.cli.ValueFormat.Range;
import ohmprint.json.JsonObject;

/** {@code report}: the sheet that goes back with a microphone. */
final class ReportCommand extends Command {
    /** Its name. */
    static final String NAME = "report";

    /** What it is for. */
    static final String HEADER = "A sheet to hand over: the result, what it means, how it was measured.";

    private static final Parameter<String> SUBJECT = Parameter.argument(
            0,
            "CURVE|SESSION",
            "A curve.json, the folder of a result, an entry of the library, or the folder of a session, which is"
                    + " measured first when it was not yet.",
            ValueFormat.filled("a curve, the folder of a result or of a session"));
    private static final Parameter<Path> OUT = Parameter.option(
                    "--out",
                    "FILE",
                    "File to write; required. An existing one is replaced.",
                    ValueFormat.path("the name of a file"))
            .required("give the name of the file to write, for example sheet.pdf");
    private static final Parameter<Form> FORMAT = Parameter.option(
            "--format",
            "FORM",
            "pdf or html (default: as the name of the file ends, else pdf).",
            ValueFormat.choice(List.of(Form.values()), Form::word));
    private static final Parameter<String> PAPER = Parameter.option(
            "--paper", "SIZE", "Pages of a PDF: a4 or letter (default: a4).", ValueFormat.word(HandOverRequest.PAPERS));
    private static final Parameter<Path> SPEC = Parameter.option(
            "--spec", "FILE", "Specification to check it against.", ValueFormat.path("the file of a specification"));
    private static final Parameter<String> COMPARE =
            Parameter.option("--compare", "CURVE", "An earlier curve of the same microphone, as before a repair.");
    private static final Parameter<Path> WORKSHOP = Parameter.option(
            "--workshop",
            "FILE",
            "YAML file with name, address and logo of the workshop.",
            ValueFormat.path("the file of a workshop"));
    private static final Parameter<Double> SENSITIVITY = Parameter.option(
            "--sensitivity",
            "MV",
            "Sensitivity in mV/Pa at 1 kHz: adds level and noise.",
            Range.above0("mV/Pa", 10_000, "1.5"));
    private static final Parameter<Double> SPL = Parameter.option(
                    "--spl", "DB", "Sound pressure level of the source.", new Range("dB", 0, 200, "94"))
            .usually(MatchRequest.Sound.USUAL_SPL_DB);

    ReportCommand() {
        super(
                NAME,
                HEADER,
                new Usage(
                        "Writes one file, PDF or HTML, that needs nothing else: the curve with its 95 %% band, the"
                                + " verdict on a specification, which input suits the microphone, what changed since an"
                                + " earlier curve, the electrical circuit, findings, uncertainty, and how it was measured."
                                + " A measurement that is marked unusable says so above all else.",
                        Usage.example("report bench-ribbon-7 --spec ribbon.yaml --out bench-ribbon-7.pdf")
                                + Usage.EXIT_CODES
                                + Usage.CAUTIONS,
                        SUBJECT,
                        OUT,
                        FORMAT,
                        PAPER,
                        SPEC,
                        COMPARE,
                        WORKSHOP,
                        SENSITIVITY,
                        SPL,
                        Parameter.JSON));
    }

    @Override
    int run(Options given, Console console) throws BadInputException, UsageException, IOException {
        HandOverRequest request = request(given, Instant.now());
        HandOverOutcome outcome = console.withProgress(progress -> HandOver.run(request, progress));
        console.tell(outcome.measurement().findings());
        if (outcome.warning() != null) {
            console.note("warning: " + outcome.warning());
        }
        String usability = outcome.measurement().usability().word();
        if (given.has(Parameter.JSON)) {
            new JsonObject()
                    .put("file", outcome.file())
                    .put("bytes", outcome.bytes())
                    .put("verdict", usability)
                    .put("specification", outcome.verdict())
                    .put("warning", outcome.warning())
                    .put("sections", outcome.sections())
                    .print(console.out());
        } else {
            console.line("microphone", outcome.measurement().microphone().label());
            console.line("verdict", usability);
            if (outcome.verdict() != null) {
                console.line("spec", outcome.verdict());
            }
            console.line("sections", String.join(", ", outcome.sections()));
            console.line("written", outcome.file() + " (" + (outcome.bytes() + 999) / 1000 + " kB)");
        }
        return ExitCode.DONE;
    }

    private static HandOverRequest request(Options given, Instant now) throws UsageException {
        String subject = given.get(SUBJECT);
        Path out = given.get(OUT);
        Form form = given.or(FORMAT, out.toString().matches("(?i).*\\.html?") ? Form.HTML : Form.PDF);
        String paper = given.find(PAPER);
        Double sensitivity = given.find(SENSITIVITY);
        double spl = given.get(SPL);
        if (given.has(SPL) && sensitivity == null) {
            throw new UsageException("--spl is given without --sensitivity; give the sensitivity in mV/Pa as well");
        }
        return new HandOverRequest(
                subject,
                given.find(SPEC),
                given.find(COMPARE),
                given.find(WORKSHOP),
                sensitivity == null ? null : HandOverRequest.sound(sensitivity, spl),
                out,
                form,
                HandOverRequest.paper(paper),
                now);
    }
}
