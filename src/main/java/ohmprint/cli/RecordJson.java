package ohmprint.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.Recording;
import ohmprint.app.record.TakeReport;
import ohmprint.curve.Finding;

/**
 * What happens while a session is recorded, for a program: one JSON object per event, each on one line, written as soon as
 * it happens. The key {@code event} says what it is; {@code "open"} stands for no resistor, null for what is not known.
 */
final class RecordJson {
    private final PrintWriter out;

    RecordJson(PrintWriter out) {
        this.out = out;
    }

    /** Something worth a word. */
    void noted(String message) {
        event("note", e -> e.writeStringField("message", message));
    }

    /** The plan. */
    void planned(Recording recording) {
        event("plan", e -> {
            e.writeStringField("session", recording.folder().toString());
            loads(e, "loads_ohm", recording.plannedOhms());
            loads(e, "remaining_ohm", recording.remainingOhms());
        });
    }

    /** A load is to be fitted. */
    void fitting(int take, int takes, double ohm) {
        event("fit", e -> {
            e.writeNumberField("take", take);
            e.writeNumberField("takes", takes);
            load(e, "load_ohm", ohm);
        });
    }

    /** The level was checked. */
    void level(LevelReport report) {
        LevelReport.Predicted predicted = report.predicted();
        event("level", e -> {
            e.writeBooleanField("acceptable", report.acceptable());
            e.writeBooleanField("clipped", report.clipped());
            number(e, "peak_dbfs", report.peakDbfs());
            number(e, "gain_change_db", report.gainChangeDb());
            number(e, "noise_dbfs", report.noiseDbfs());
            number(e, "signal_to_noise_db", report.signalToNoiseDb());
            number(e, "predicted_median_u95_percent", predicted == null ? Double.NaN : predicted.medianPercent());
            number(e, "predicted_from_hz", predicted == null ? Double.NaN : predicted.fromHz());
            number(e, "predicted_to_hz", predicted == null ? Double.NaN : predicted.toHz());
            findings(e, report.findings());
        });
    }

    /** A take was recorded and checked. */
    void taken(TakeReport report) {
        Double step = report.stepDb();
        event("take", e -> {
            e.writeNumberField("take", report.number());
            e.writeStringField("file", report.file());
            load(e, "load_ohm", report.loadOhm());
            e.writeBooleanField("usable", report.usable());
            number(e, "peak_dbfs", report.peakDbfs());
            number(e, "noise_dbfs", report.noiseDbfs());
            number(e, "step_db", step == null ? Double.NaN : step);
            findings(e, report.findings());
        });
    }

    /** What became of a take. */
    void judged(String file, boolean kept) {
        event(kept ? "kept" : "repeat", e -> e.writeStringField("file", file));
    }

    /** The end. */
    void ended(Recording recording) {
        event(recording.remainingOhms().isEmpty() ? "done" : "stopped", e -> {
            e.writeStringField("session", recording.folder().toString());
            e.writeArrayFieldStart("takes");
            for (String take : recording.takes()) {
                e.writeString(take);
            }
            e.writeEndArray();
            loads(e, "remaining_ohm", recording.remainingOhms());
        });
    }

    /** Writes the fields of an event. */
    @FunctionalInterface
    private interface Fields {
        void write(JsonGenerator json) throws IOException;
    }

    private void event(String name, Fields fields) {
        StringWriter text = new StringWriter();
        try (JsonGenerator generator = new JsonFactory().createGenerator(text)) {
            generator.writeStartObject();
            generator.writeStringField("event", name);
            fields.write(generator);
            generator.writeEndObject();
        } catch (IOException e) {
            throw new IllegalStateException("writing to memory cannot fail", e);
        }
        out.println(text);
        out.flush();
    }

    private static void findings(JsonGenerator json, List<Finding> findings) throws IOException {
        json.writeArrayFieldStart("findings");
        for (Finding finding : findings) {
            json.writeStartObject();
            json.writeStringField("code", finding.code().word());
            json.writeStringField("message", finding.message());
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private static void loads(JsonGenerator json, String key, List<Double> ohms) throws IOException {
        json.writeArrayFieldStart(key);
        for (double ohm : ohms) {
            if (Double.isInfinite(ohm)) {
                json.writeString("open");
            } else {
                json.writeNumber(ohm);
            }
        }
        json.writeEndArray();
    }

    private static void load(JsonGenerator json, String key, double ohm) throws IOException {
        if (Double.isInfinite(ohm)) {
            json.writeStringField(key, "open");
        } else {
            json.writeNumberField(key, ohm);
        }
    }

    private static void number(JsonGenerator json, String key, double value) throws IOException {
        if (Double.isFinite(value)) {
            json.writeNumberField(key, value);
        } else {
            json.writeNullField(key);
        }
    }
}
