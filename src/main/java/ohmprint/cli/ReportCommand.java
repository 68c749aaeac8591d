package ohmprint.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.app.Progress;
import ohmprint.app.handover.HandOverOutcome;
import ohmprint.app.handover.HandOverRequest;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParseResult;

/**
 * {@code report}: the sheet that goes back with a microphone.
 *
 * @param useCase what writes it
 */
record ReportCommand(Writing useCase) implements Command {
    static final String NAME = "report";

    /** Writes a sheet. */
    @FunctionalInterface
    interface Writing {
        /** See {@link ohmprint.app.handover.HandOver#run}. */
        HandOverOutcome run(HandOverRequest request, Progress progress) throws BadInputException, IOException;
    }

    @Override
    public String name() {
        return NAME;
    }

    @Override
    public String header() {
        return "A sheet to hand over: the result, what it means, how it was measured.";
    }

    @Override
    public CommandSpec grammar() {
        CommandSpec spec = CommandText.command(NAME)
                .addPositional(CommandText.argument(
                        0,
                        "CURVE|SESSION",
                        "A curve.json, the folder of a result, an entry of the library, or the folder of a session, which is"
                                + " measured first when it was not yet."))
                .addOption(CommandText.value("--out", "FILE", "File to write; required. An existing one is replaced."))
                .addOption(CommandText.value(
                        "--format", "FORM", "pdf or html (default: as the name of the file ends, else pdf)."))
                .addOption(CommandText.value("--paper", "SIZE", "Pages of a PDF: a4 or letter (default: a4)."))
                .addOption(CommandText.value("--spec", "FILE", "Specification to check it against."))
                .addOption(CommandText.value(
                        "--compare", "CURVE", "An earlier curve of the same microphone, as before a repair."))
                .addOption(CommandText.value(
                        "--workshop", "FILE", "YAML file with name, address and logo of the workshop."))
                .addOption(CommandText.value(
                        "--sensitivity", "MV", "Sensitivity in mV/Pa at 1 kHz: adds level and noise."))
                .addOption(CommandText.value("--spl", "DB", "Sound pressure level of the source (default: 94)."))
                .addOption(CommandText.json());
        spec.usageMessage()
                .description("Writes one file, PDF or HTML, that needs nothing else: the curve with its 95 %% band, the"
                        + " verdict on a specification, which input suits the microphone, what changed since an earlier"
                        + " curve, the electrical circuit, findings, uncertainty, and how it was measured. A measurement"
                        + " that is marked unusable says so above all else.")
                .footer("""

                        Example:
                          ohmprint report bench-ribbon-7 --spec ribbon.yaml --out bench-ribbon-7.pdf
                        """ + CommandText.EXIT_CODES + CommandText.CAUTIONS);
        return spec;
    }

    @Override
    public int run(ParseResult given, Console console) throws BadInputException, UsageException, IOException {
        HandOverRequest request = ReportOptions.request(given, Instant.now());
        HandOverOutcome outcome = console.withProgress(progress -> useCase.run(request, progress));
        console.tell(outcome.measurement().findings());
        if (outcome.warning() != null) {
            console.err().println(OneLine.of("warning: " + outcome.warning()));
        }
        if (given.hasMatchedOption("--json")) {
            json(outcome, console.out());
        } else {
            PrintWriter out = console.out();
            out.println("microphone  "
                    + OneLine.of(outcome.measurement().microphone().label()));
            out.println("verdict     " + outcome.measurement().usability().word());
            if (outcome.verdict() != null) {
                out.println("spec        " + outcome.verdict());
            }
            out.println("sections    " + String.join(", ", outcome.sections()));
            out.println("written     " + outcome.file() + " (" + (outcome.bytes() + 999) / 1000 + " kB)");
        }
        return ExitCode.DONE;
    }

    private static void json(HandOverOutcome outcome, PrintWriter out) throws IOException {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.writeStartObject();
            json.writeStringField("file", outcome.file().toString());
            json.writeNumberField("bytes", outcome.bytes());
            json.writeStringField("verdict", outcome.measurement().usability().word());
            json.writeStringField("specification", outcome.verdict());
            json.writeStringField("warning", outcome.warning());
            json.writeFieldName("sections");
            json.writeArray(
                    outcome.sections().toArray(String[]::new),
                    0,
                    outcome.sections().size());
            json.writeEndObject();
        }
        out.println(text);
    }

    /** The options as a request. */
    private static final class ReportOptions {
        private static final Options.Range SENSITIVITY = Options.Range.above0("mV/Pa", 10_000, "1.5");
        private static final Options.Range SPL = new Options.Range("dB", 0, 200, "94");

        static HandOverRequest request(ParseResult given, Instant now) throws UsageException {
            Options options = Options.of(given);
            String subject = options.argument(0);
            if (subject.isEmpty()) {
                throw new UsageException(
                        "CURVE|SESSION is empty; give a curve, the folder of a result or of a session");
            }
            Path out = options.path("--out", "the name of a file");
            if (out == null) {
                throw new UsageException("--out is missing; give the name of the file to write, for example sheet.pdf");
            }
            String form = options.word("--format", List.of("pdf", "html"));
            boolean html = form == null ? out.toString().matches("(?i).*\\.html?") : form.equals("html");
            String paper = options.word("--paper", HandOverRequest.PAPERS);
            Double sensitivity = options.number("--sensitivity", SENSITIVITY);
            Double spl = options.number("--spl", SPL);
            if (spl != null && sensitivity == null) {
                throw new UsageException("--spl is given without --sensitivity; give the sensitivity in mV/Pa as well");
            }
            return new HandOverRequest(
                    subject,
                    options.path("--spec", "the file of a specification"),
                    options.text("--compare"),
                    options.path("--workshop", "the file of a workshop"),
                    sensitivity == null ? null : HandOverRequest.sound(sensitivity, spl),
                    out,
                    html ? HandOverRequest.Form.HTML : HandOverRequest.Form.PDF,
                    HandOverRequest.paper(paper),
                    now);
        }
    }
}
