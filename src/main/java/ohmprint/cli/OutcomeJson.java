package ohmprint.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.MeasureOutcome;
import ohmprint.curve.BandStatus;
import ohmprint.curve.Finding;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;

/** The outcome of a measurement for a program: one JSON object on one line. */
final class OutcomeJson {
    private OutcomeJson() {}

    /** Prints it; {@code folder} is null and {@code files} empty when nothing was written. */
    static void print(MeasureOutcome outcome, PrintWriter out) throws IOException {
        print(outcome, json -> {}, out);
    }

    /** Fields that a command adds. */
    @FunctionalInterface
    interface More {
        /** Writes them into the open object. */
        void write(JsonGenerator json) throws IOException;
    }

    /** The same with more fields at the end. */
    static void print(MeasureOutcome outcome, More more, PrintWriter out) throws IOException {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            write(outcome, json, more);
        }
        out.println(text);
    }

    private static void write(MeasureOutcome outcome, JsonGenerator json, More more) throws IOException {
        Measurement m = outcome.measurement();
        ImpedanceCurve curve = m.curve();
        Path folder = outcome.folder();
        json.writeStartObject();
        json.writeStringField("verdict", m.usability().word());
        json.writeStringField("route", m.route().word());
        json.writeStringField("route_reason", m.routeReason());
        json.writeStringField("quantity", curve.quantity());
        json.writeStringField("folder", folder == null ? null : folder.toString());
        strings(json, "files", outcome.files());
        json.writeArrayFieldStart("findings");
        for (Finding finding : m.findings()) {
            json.writeStartObject();
            json.writeStringField("code", finding.code().word());
            json.writeStringField("take", finding.take());
            json.writeStringField("message", finding.message());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeNumberField("measured_bands", curve.count(BandStatus.MEASURED));
        json.writeNumberField("rejected_bands", curve.count(BandStatus.REJECTED));
        json.writeNumberField("interval_bands", curve.count(BandStatus.INTERVAL));
        strings(json, "advice", outcome.advice());
        more.write(json);
        json.writeEndObject();
    }

    private static void strings(JsonGenerator json, String name, List<String> values) throws IOException {
        json.writeArrayFieldStart(name);
        for (String value : values) {
            json.writeString(value);
        }
        json.writeEndArray();
    }
}
