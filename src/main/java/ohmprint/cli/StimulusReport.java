package ohmprint.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.Locale;
import ohmprint.app.stimulus.StimulusOutcome;

/** What {@code stimulus} prints. */
final class StimulusReport {
    private StimulusReport() {}

    /** Lines for a reader, with what to write into the manifest. */
    static void print(StimulusOutcome outcome, PrintWriter out) {
        out.println("written     " + outcome.file());
        out.println(String.format(Locale.ROOT, "length      %.2f s at %d Hz", outcome.seconds(), outcome.sampleRate()));
        out.println(String.format(
                Locale.ROOT, "copies      %d, one every %.2f s", outcome.copies(), outcome.copySeconds()));
        out.println(String.format(
                Locale.ROOT,
                "level       %.1f dBFS peak, %.1f dBFS rms while it sounds",
                outcome.peakDbfs(),
                outcome.rmsDbfs()));
        out.println("manifest    stimulus: {kind: " + outcome.kind() + ", file: "
                + outcome.file().getFileName() + "}");
    }

    /** One JSON object on one line. */
    static void json(StimulusOutcome outcome, PrintWriter out) throws IOException {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            json.writeStartObject();
            json.writeStringField("file", outcome.file().toString());
            json.writeStringField("kind", outcome.kind());
            json.writeNumberField("sample_rate", outcome.sampleRate());
            json.writeNumberField("frames", outcome.frames());
            json.writeNumberField("seconds", outcome.seconds());
            json.writeNumberField("copies", outcome.copies());
            json.writeNumberField("copy_seconds", outcome.copySeconds());
            json.writeNumberField("peak_dbfs", outcome.peakDbfs());
            json.writeNumberField("rms_dbfs", outcome.rmsDbfs());
            json.writeEndObject();
        }
        out.println(text);
    }
}
