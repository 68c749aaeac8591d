package ohmprint.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.Locale;
import ohmprint.app.audition.AuditionOutcome;
import ohmprint.curve.Rounded;

/** What an audition came to, as text or for a program. */
final class AuditionReport {
    private AuditionReport() {}

    /** Prints it for a reader. */
    static void text(AuditionOutcome outcome, PrintWriter out) {
        line(out, "microphone", OneLine.of(outcome.microphone()));
        line(out, "from", outcome.from());
        line(out, "to", outcome.to());
        line(
                out,
                "band",
                Rounded.frequency(outcome.lowestHz()) + " to " + Rounded.frequency(outcome.highestHz())
                        + ", where the filter follows the curve");
        out.println();
        out.println("  frequency      change   ± 95 %");
        for (AuditionOutcome.Change change : outcome.changes()) {
            out.println(String.format(
                    Locale.ROOT,
                    "  %9s   %+6.2f dB   %.2f dB",
                    Rounded.frequency(change.frequencyHz()),
                    change.changeDb(),
                    change.u95Db()));
        }
        out.println();
        if (!Double.isNaN(outcome.levelChangeDb())) {
            line(out, "level", String.format(Locale.ROOT, "%+.2f dB for the whole take", outcome.levelChangeDb()));
        }
        if (outcome.matchedByDb() != 0) {
            line(
                    out,
                    "matched",
                    String.format(Locale.ROOT, "by %+.2f dB to the level of the take", outcome.matchedByDb()));
        }
        if (outcome.loweredByDb() > 0) {
            line(
                    out,
                    "lowered",
                    String.format(
                            Locale.ROOT,
                            "by %.2f dB, or it would clip; the comparison plays the take as much lower",
                            outcome.loweredByDb()));
        }
        line(out, "written", outcome.out().toString());
        if (outcome.comparison() != null) {
            line(
                    out,
                    "comparison",
                    outcome.comparison() + ": " + outcome.comparisonSeconds().size()
                            + (outcome.comparisonSeconds().size() == 1 ? " passage" : " passages, each")
                            + " as recorded, then as rendered");
        }
    }

    private static void line(PrintWriter out, String name, String text) {
        out.println(name + " ".repeat(12 - name.length()) + text);
    }

    /** Prints it as one JSON object on one line; null for what does not exist. */
    static void json(AuditionOutcome outcome, PrintWriter out) throws IOException {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            write(outcome, json);
        }
        out.println(text);
    }

    private static void write(AuditionOutcome outcome, JsonGenerator json) throws IOException {
        json.writeStartObject();
        json.writeStringField("microphone", outcome.microphone());
        json.writeStringField("from", outcome.from());
        json.writeStringField("to", outcome.to());
        json.writeNumberField("lowest_hz", outcome.lowestHz());
        json.writeNumberField("highest_hz", outcome.highestHz());
        json.writeArrayFieldStart("changes");
        for (AuditionOutcome.Change change : outcome.changes()) {
            json.writeStartObject();
            json.writeNumberField("frequency_hz", change.frequencyHz());
            json.writeNumberField("change_db", change.changeDb());
            json.writeNumberField("change_u95_db", change.u95Db());
            json.writeEndObject();
        }
        json.writeEndArray();
        number(json, "level_change_db", outcome.levelChangeDb());
        json.writeNumberField("matched_by_db", outcome.matchedByDb());
        json.writeNumberField("lowered_by_db", outcome.loweredByDb());
        number(json, "peak_db", outcome.peakDb());
        json.writeStringField("file", outcome.out().toString());
        if (outcome.comparison() == null) {
            json.writeNullField("comparison");
        } else {
            json.writeStringField("comparison", outcome.comparison().toString());
        }
        json.writeArrayFieldStart("passages_s");
        for (double start : outcome.comparisonSeconds()) {
            json.writeNumber(start);
        }
        json.writeEndArray();
        json.writeNumberField("passage_length_s", outcome.passageSeconds());
        json.writeArrayFieldStart("notes");
        for (String note : outcome.notes()) {
            json.writeString(note);
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void number(JsonGenerator json, String name, double value) throws IOException {
        if (Double.isFinite(value)) {
            json.writeNumberField(name, value);
        } else {
            json.writeNullField(name);
        }
    }
}
