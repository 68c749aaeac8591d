package ohmprint.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import ohmprint.app.match.LevelPrediction;
import ohmprint.app.match.LoadPrediction;
import ohmprint.app.match.MatchOutcome;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.match.Matching;
import ohmprint.curve.Finding;
import ohmprint.curve.PredictedValue;

/**
 * A match for a program: one JSON object on one line. Each predicted quantity has four keys, such as {@code tilt_db}, {@code
 * tilt_u95_db}, {@code tilt_low_db} and {@code tilt_high_db}: the value with its 95 % uncertainty, or bounds. Null stands
 * for what is not determined, for a bound without end, and for a least load that does not exist.
 */
final class MatchJson {
    private final JsonGenerator json;

    private MatchJson(JsonGenerator json) {
        this.json = json;
    }

    /** Prints it. */
    static void print(MatchOutcome outcome, PrintWriter out) throws IOException {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text)) {
            new MatchJson(json).write(outcome);
        }
        out.println(text);
    }

    private void write(MatchOutcome outcome) throws IOException {
        json.writeStartObject();
        json.writeStringField("microphone", outcome.measurement().microphone().label());
        json.writeStringField("curve", outcome.curve());
        json.writeStringField("quantity", outcome.measurement().curve().quantity());
        json.writeStringField("verdict", outcome.measurement().usability().word());
        Matching.Coverage c = outcome.coverage();
        number("lowest_hz", c.lowestHz());
        number("highest_hz", c.highestHz());
        number("bands", c.bands());
        number("rejected_bands", c.gaps());
        number("interval_bands", c.bounded());
        number("unsigned_bands", c.unsigned());
        MatchRequest.Line line = outcome.request().line();
        number("cable_pf", line.cableMetres() * line.cablePfPerMetre());
        json.writeBooleanField("phantom_feeds", line.phantomFeeds());
        value("ten_times", "ohm", outcome.tenTimes());
        number("ten_times_hz", outcome.tenTimes().hz());
        least("least_load_1db", outcome.leastForLoss());
        least("least_load_half_db_tilt", outcome.leastForTilt());
        json.writeArrayFieldStart("loads");
        for (LoadPrediction p : outcome.inputs()) {
            write(p);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("chains");
        for (LoadPrediction p : outcome.chains()) {
            write(p);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("variable_load");
        for (LoadPrediction p : outcome.family()) {
            write(p);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("findings");
        for (Finding finding : outcome.findings()) {
            json.writeStartObject();
            json.writeStringField("code", finding.code().word());
            json.writeStringField("message", finding.message());
            json.writeEndObject();
        }
        json.writeEndArray();
        strings("notes", outcome.notes());
        if (outcome.folder() != null) {
            json.writeStringField("folder", outcome.folder().toString());
            strings("files", outcome.files());
        }
        json.writeEndObject();
    }

    private void strings(String key, List<String> texts) throws IOException {
        json.writeArrayFieldStart(key);
        for (String text : texts) {
            json.writeString(text);
        }
        json.writeEndArray();
    }

    private void least(String key, Matching.LeastResistance least) throws IOException {
        value(key, "ohm", least.ohm());
        number(key + "_hz", least.ohm().hz());
        number(key + "_upto_ohm", least.upToOhm());
        json.writeBooleanField(key + "_any", least.any());
    }

    private void write(LoadPrediction p) throws IOException {
        json.writeStartObject();
        json.writeStringField("name", p.name());
        json.writeStringField("load", p.load());
        number("load_ohm", p.loadOhm());
        value("worst_loss", "db", p.worstLoss());
        number("worst_loss_hz", p.worstLoss().hz());
        value("loss_1khz", "db", p.lossAtReference());
        value("tilt", "db", p.tilt());
        value("largest_change", "db", p.largestChange());
        number("largest_change_hz", p.largestChange().hz());
        value("least_ratio", "", p.leastRatio());
        number("least_ratio_hz", p.leastRatio().hz());
        json.writeStringField("ten_times", p.tenTimes().word());
        LevelPrediction l = p.level();
        if (l != null) {
            write(l);
        }
        json.writeEndObject();
    }

    private void write(LevelPrediction l) throws IOException {
        value("level", "dbu", l.levelDbu());
        value("level", "mv", l.millivolt());
        value("needed_gain", "db", l.neededGainDb());
        number("available_gain_db", l.availableGainDb() == null ? Double.NaN : l.availableGainDb());
        value("spare_gain", "db", l.spareGainDb());
        json.writeStringField("enough", l.enough().word());
        value("thermal_noise", "dbu", l.thermalDbu());
        value("noise", "dbu", l.totalDbu());
        value("noise_a", "dbu", l.totalADbu());
        value("equivalent_noise", "db_spl", l.equivalentDb());
        value("equivalent_noise_a", "db_spl", l.equivalentADb());
        value("noise_penalty", "db", l.penaltyDb());
        number("noise_bandwidth_hz", l.coveredHz());
    }

    private void value(String key, String unit, PredictedValue p) throws IOException {
        String end = unit.isEmpty() ? "" : "_" + unit;
        number(key + end, p.value());
        number(key + "_u95" + end, p.u95());
        number(key + "_low" + end, p.low());
        number(key + "_high" + end, p.high());
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
