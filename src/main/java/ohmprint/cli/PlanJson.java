package ohmprint.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import ohmprint.app.LoadPlan;
import ohmprint.app.UncertaintyOrigin;
import ohmprint.curve.BandBudget;
import ohmprint.curve.Finding;

/** A plan for a program: one JSON object on one line. */
final class PlanJson {
    private final JsonGenerator json;

    private PlanJson(JsonGenerator json) {
        this.json = json;
    }

    /** Prints it; {@code "open"} stands for no resistor, null for what does not exist. */
    static void print(LoadPlan plan, PrintWriter out) throws IOException {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            new PlanJson(json).write(plan);
        }
        out.println(text);
    }

    private void write(LoadPlan plan) throws IOException {
        json.writeStartObject();
        json.writeStringField("expected", plan.expected());
        json.writeStringField("input", plan.input());
        number("lowest_hz", plan.bands().midband(0));
        number("highest_hz", plan.bands().midband(plan.bands().size() - 1));
        number("bands_per_octave", plan.bands().fraction());
        number("drift_percent", plan.bench().driftPercent());
        number("tolerance_percent", plan.tolerancePercent());
        number("snr_db", plan.bench().snrDb());
        number("seconds", plan.bench().seconds());
        json.writeArrayFieldStart("sets");
        for (LoadPlan.LoadSet set : plan.sets()) {
            write(plan, set);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("notes");
        for (String note : plan.notes()) {
            json.writeString(note);
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private void write(LoadPlan plan, LoadPlan.LoadSet set) throws IOException {
        json.writeStartObject();
        loads("loads_ohm", set.loadsOhm());
        loads("take_order_ohm", set.takeOrderOhm());
        percent(set.predicted());
        number("worst_hz", set.worstHz());
        BandBudget budget = set.worstBudget();
        json.writeStringField("dominated_by", UncertaintyOrigin.largest(budget).word());
        json.writeObjectFieldStart("worst_budget_ohm");
        for (UncertaintyOrigin cause : UncertaintyOrigin.values()) {
            number(cause.word(), cause.of(budget));
        }
        json.writeEndObject();
        json.writeArrayFieldStart("changes");
        for (LoadPlan.Change change : set.changes()) {
            json.writeStartObject();
            json.writeStringField("change", change.change());
            percent(change.predicted());
            json.writeEndObject();
        }
        json.writeEndArray();
        if (plan.wantedPercent() != null) {
            number("wanted_u95_percent", plan.wantedPercent());
        }
        if (set.secondsForWanted() != null) {
            number("seconds_for_wanted", set.secondsForWanted());
        }
        json.writeArrayFieldStart("findings");
        for (Finding finding : set.findings()) {
            json.writeStartObject();
            json.writeStringField("code", finding.code().word());
            json.writeStringField("message", finding.message());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private void percent(LoadPlan.Percent predicted) throws IOException {
        number("predicted_median_u95_percent", predicted.median());
        number("predicted_worst_u95_percent", predicted.worst());
    }

    private void loads(String key, List<Double> ohms) throws IOException {
        json.writeArrayFieldStart(key);
        for (double ohm : ohms) {
            if (Double.isInfinite(ohm)) {
                json.writeString("open");
            } else if (ohm == Math.rint(ohm)) {
                json.writeNumber((long) ohm);
            } else {
                json.writeNumber(ohm);
            }
        }
        json.writeEndArray();
    }

    private void number(String key, double value) throws IOException {
        if (!Double.isFinite(value)) {
            json.writeNullField(key);
        } else if (value == Math.rint(value) && Math.abs(value) < 1e15) {
            json.writeNumberField(key, (long) value);
        } else {
            json.writeNumberField(key, value);
        }
    }
}
