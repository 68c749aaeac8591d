package ohmprint.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import ohmprint.app.circuit.CircuitOutcome;
import org.jspecify.annotations.Nullable;

/** A circuit for a program: one JSON object on one line. What is not determined is null. */
final class CircuitJson {
    private final JsonGenerator json;

    private CircuitJson(JsonGenerator json) {
        this.json = json;
    }

    /** Prints it. */
    static void print(CircuitOutcome outcome, PrintWriter out) throws IOException {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            new CircuitJson(json).write(outcome);
        }
        out.println(text);
    }

    private void write(CircuitOutcome outcome) throws IOException {
        json.writeStartObject();
        json.writeStringField("microphone", outcome.microphone());
        json.writeStringField("quantity", outcome.quantity());
        json.writeStringField("family", outcome.family());
        json.writeStringField("circuit", outcome.circuit());
        json.writeBooleanField("follows", outcome.follows());
        json.writeNumberField("lowest_hz", outcome.lowestHz());
        json.writeNumberField("highest_hz", outcome.highestHz());
        json.writeArrayFieldStart("values");
        for (CircuitOutcome.Value value : outcome.values()) {
            json.writeStartObject();
            json.writeStringField("name", value.name());
            json.writeStringField("unit", value.unit());
            numbers(value, outcome.follows());
            json.writeEndObject();
        }
        json.writeEndArray();
        derived("dc_resistance_ohm", outcome.dcResistance(), outcome.follows());
        derived("top_inductance_henry", outcome.topInductance(), outcome.follows());
        json.writeObjectFieldStart("misfit");
        json.writeNumberField("rms_percent", outcome.misfit().rmsPercent());
        json.writeNumberField("worst_percent", outcome.misfit().worstPercent());
        json.writeNumberField("worst_hz", outcome.misfit().worstHz());
        json.writeNumberField("chi_square_per_freedom", outcome.misfit().scatter());
        json.writeEndObject();
        json.writeArrayFieldStart("others");
        for (CircuitOutcome.Rival rival : outcome.rivals()) {
            json.writeStartObject();
            json.writeStringField("family", rival.family());
            json.writeStringField("circuit", rival.circuit());
            json.writeNumberField("behind", rival.behind());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("notes");
        for (String note : outcome.notes()) {
            json.writeString(note);
        }
        json.writeEndArray();
        if (outcome.file() == null) {
            json.writeNullField("file");
        } else {
            json.writeStringField("file", outcome.file().toString());
        }
        json.writeEndObject();
    }

    private void derived(String name, CircuitOutcome.@Nullable Value value, boolean follows) throws IOException {
        if (value == null) {
            json.writeNullField(name);
            return;
        }
        json.writeObjectFieldStart(name);
        numbers(value, follows);
        json.writeEndObject();
    }

    private void numbers(CircuitOutcome.Value value, boolean follows) throws IOException {
        boolean stated = follows && value.determined();
        json.writeBooleanField("determined", stated);
        number("value", value.value(), stated);
        number("low", value.low(), stated);
        number("high", value.high(), stated);
    }

    private void number(String name, double value, boolean stated) throws IOException {
        if (stated) {
            json.writeNumberField(name, value);
        } else {
            json.writeNullField(name);
        }
    }
}
