package ohmprint.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import java.util.Locale;
import ohmprint.app.record.LevelReport;
import ohmprint.app.record.RecordListener;
import ohmprint.app.record.Recording;
import ohmprint.app.record.TakeReport;
import ohmprint.curve.Finding;
import ohmprint.curve.Rounded;

/** Tells what happens while a session is recorded: words on standard error, JSON lines on standard output if wanted. */
final class RecordEvents implements RecordListener {
    private static final double METER_BOTTOM_DB = -60;
    private static final int METER_COLUMNS = 30;

    private final Console console;
    private final boolean json;
    private boolean metering;

    RecordEvents(Console console, boolean json) {
        this.console = console;
        this.json = json;
    }

    private PrintWriter err() {
        return console.err();
    }

    /** A line of words. */
    void say(String words) {
        endMeter();
        err().println(OneLine.of(words));
        err().flush();
    }

    @Override
    public void noted(String message) {
        say("note: " + message);
        event("note", e -> e.writeStringField("message", message));
    }

    /** A moving bar on a terminal; nothing elsewhere. */
    @Override
    public void heard(double peakDbfs, double rmsDbfs, double share) {
        if (!console.around().progressWanted()) {
            return;
        }
        int filled = (int) Math.round(METER_COLUMNS * Math.min(1, Math.max(0, 1 - peakDbfs / METER_BOTTOM_DB)));
        String bar = "#".repeat(filled) + "-".repeat(METER_COLUMNS - filled);
        err().print(String.format(
                Locale.ROOT, "\r  %3.0f %%  [%s] %6.1f dBFS ", 100 * share, bar, Math.max(-120, peakDbfs)));
        err().flush();
        metering = true;
    }

    private void endMeter() {
        if (metering) {
            err().print("\r" + " ".repeat(METER_COLUMNS + 28) + "\r");
            metering = false;
        }
    }

    /** A resistor as it is said: {@code 330 Ω}, or no resistor. */
    static String load(double ohm) {
        return Double.isInfinite(ohm) ? "no resistor" : Options.plain(ohm) + " Ω";
    }

    /** What the user has to do for a load. */
    static String fit(double ohm) {
        return Double.isInfinite(ohm) ? "fit no resistor (open)" : "fit " + load(ohm) + " across pins 2 and 3";
    }

    /** The plan: loads, sound, devices. */
    void planned(Recording recording) {
        String loads = String.join(
                ", ",
                recording.plannedOhms().stream()
                        .map(o -> Double.isInfinite(o) ? "open" : Options.plain(o))
                        .toList());
        say(String.format(
                Locale.ROOT,
                "Plan: %d takes of %.0f s with %s Ω; %s.",
                recording.plannedOhms().size(),
                recording.takeSeconds(),
                loads,
                recording.recorder()));
        if (!recording.takes().isEmpty()) {
            say("Recorded already: " + String.join(", ", recording.takes()) + ". Do not touch level and gain.");
        }
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
        tell(report.findings());
        say(String.format(
                Locale.ROOT,
                "Level: peak %.1f dBFS, headroom %.1f dB%s.",
                report.peakDbfs(),
                -report.peakDbfs(),
                Double.isNaN(report.noiseDbfs())
                        ? ""
                        : String.format(Locale.ROOT, ", noise %.0f dBFS", report.noiseDbfs())));
        if (report.gainChangeDb() != 0 && Double.isFinite(report.gainChangeDb())) {
            say(String.format(
                    Locale.ROOT,
                    "Gain: %s by about %.0f dB.",
                    report.gainChangeDb() > 0 ? "raise it" : "lower it",
                    Math.abs(report.gainChangeDb())));
        } else if (report.acceptable()) {
            say("Gain: well set.");
        }
        LevelReport.Predicted predicted = report.predicted();
        if (predicted != null) {
            say(String.format(
                    Locale.ROOT,
                    "Expected: signal %.0f dB over noise; for %s Ω, 95 %% uncertainty ± %s %% in the median band%s.",
                    report.signalToNoiseDb(),
                    Rounded.digits(predicted.expectedOhm(), 3),
                    Double.isInfinite(predicted.medianPercent()) ? "?" : Rounded.digits(predicted.medianPercent(), 2),
                    Double.isNaN(predicted.fromHz())
                            ? ""
                            : ", below 10 % from " + Rounded.frequency(predicted.fromHz()) + " to "
                                    + Rounded.frequency(predicted.toHz())));
        }
        event("level", e -> {
            e.writeBooleanField("acceptable", report.acceptable());
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
        tell(report.findings());
        Double step = report.stepDb();
        say(String.format(
                Locale.ROOT,
                "Take %d, %s: peak %.1f dBFS%s%s; %s.",
                report.number(),
                load(report.loadOhm()),
                report.peakDbfs(),
                Double.isNaN(report.noiseDbfs())
                        ? ""
                        : String.format(Locale.ROOT, ", noise %.0f dBFS", report.noiseDbfs()),
                step == null || step.isNaN()
                        ? ""
                        : String.format(Locale.ROOT, ", %+.2f dB against %s", step, report.comparedTo()),
                report.usable() ? "good" : "not usable"));
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
        boolean done = recording.remainingOhms().isEmpty();
        event(done ? "done" : "stopped", e -> {
            e.writeStringField("session", recording.folder().toString());
            e.writeArrayFieldStart("takes");
            for (String take : recording.takes()) {
                e.writeString(take);
            }
            e.writeEndArray();
            loads(e, "remaining_ohm", recording.remainingOhms());
        });
        if (!json) {
            PrintWriter out = console.out();
            out.println("session     " + OneLine.of(recording.folder().toString()));
            out.println("takes       " + (recording.takes().isEmpty() ? "none" : String.join(", ", recording.takes())));
            out.println("next        ohmprint " + (done ? "measure " : "record ")
                    + OneLine.of(recording.folder().toString()));
        }
    }

    private void tell(List<Finding> findings) {
        endMeter();
        console.tell(findings);
    }

    /** Writes the fields of an event. */
    @FunctionalInterface
    private interface Fields {
        void write(JsonGenerator json) throws IOException;
    }

    private void event(String name, Fields fields) {
        if (!json) {
            return;
        }
        StringWriter text = new StringWriter();
        try (JsonGenerator generator = new JsonFactory().createGenerator(text)) {
            generator.writeStartObject();
            generator.writeStringField("event", name);
            fields.write(generator);
            generator.writeEndObject();
        } catch (IOException e) {
            throw new IllegalStateException("writing to memory cannot fail", e);
        }
        console.out().println(text);
        console.out().flush();
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
