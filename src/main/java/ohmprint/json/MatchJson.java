package ohmprint.json;

import ohmprint.app.match.LevelPrediction;
import ohmprint.app.match.LoadPrediction;
import ohmprint.app.match.MatchOutcome;
import ohmprint.app.match.MatchRequest;
import ohmprint.app.match.Matching;
import ohmprint.impedance.PredictedValue;

/**
 * What inputs do to a microphone. Each predicted quantity has four keys, such as {@code tilt_db}, {@code tilt_u95_db},
 * {@code tilt_low_db} and {@code tilt_high_db}: the value with its 95 % uncertainty, or bounds. Null stands for what is not
 * determined, for a bound without end, and for a least load that does not exist.
 */
public final class MatchJson {
    private MatchJson() {}

    /** The outcome of {@code match}; {@code folder} and {@code files} only when files were written. */
    public static JsonObject outcome(MatchOutcome outcome) {
        Matching.Coverage c = outcome.coverage();
        MatchRequest.Line line = outcome.request().line();
        JsonObject json = new JsonObject()
                .put("microphone", outcome.measurement().microphone().label())
                .put("curve", outcome.curve())
                .put("quantity", outcome.measurement().curve().quantity())
                .put("verdict", outcome.measurement().usability().word())
                .number("lowest_hz", c.lowestHz())
                .number("highest_hz", c.highestHz())
                .number("bands", c.bands())
                .number("rejected_bands", c.gaps())
                .number("interval_bands", c.bounded())
                .number("unsigned_bands", c.unsigned())
                .number("cable_pf", line.cableMetres() * line.cablePfPerMetre())
                .put("phantom_feeds", line.phantomFeeds());
        asked(json, outcome)
                .list("loads", outcome.inputs(), MatchJson::prediction)
                .list("chains", outcome.chains(), MatchJson::prediction)
                .list("variable_load", outcome.family(), MatchJson::prediction)
                .list("findings", outcome.findings(), MeasurementJson::findingAlone)
                .put("notes", outcome.notes());
        if (outcome.folder() != null) {
            json.put("folder", outcome.folder()).put("files", outcome.files());
        }
        return json;
    }

    /** Adds what the microphone asks of any input. */
    public static JsonObject asked(JsonObject json, MatchOutcome outcome) {
        value(json, "ten_times", "ohm", outcome.tenTimes())
                .number("ten_times_hz", outcome.tenTimes().hz());
        least(json, "least_load_1db", outcome.leastForLoss());
        return least(json, "least_load_half_db_tilt", outcome.leastForTilt());
    }

    private static JsonObject least(JsonObject json, String key, Matching.LeastResistance least) {
        return value(json, key, "ohm", least.ohm())
                .number(key + "_hz", least.ohm().hz())
                .number(key + "_upto_ohm", least.upToOhm())
                .put(key + "_any", least.any());
    }

    /** Which input it is. */
    public static JsonObject input(LoadPrediction p) {
        return new JsonObject().put("name", p.name()).put("load", p.load()).number("load_ohm", p.loadOhm());
    }

    /** What one input does; level and noise only when they were asked for. */
    public static JsonObject prediction(LoadPrediction p) {
        JsonObject json = input(p);
        value(json, "worst_loss", "db", p.worstLoss())
                .number("worst_loss_hz", p.worstLoss().hz());
        value(json, "loss_1khz", "db", p.lossAtReference());
        value(json, "tilt", "db", p.tilt());
        value(json, "largest_change", "db", p.largestChange())
                .number("largest_change_hz", p.largestChange().hz());
        value(json, "least_ratio", "", p.leastRatio())
                .number("least_ratio_hz", p.leastRatio().hz())
                .put("ten_times", p.tenTimes().word());
        LevelPrediction l = p.level();
        return l == null ? json : level(json, l);
    }

    private static JsonObject level(JsonObject json, LevelPrediction l) {
        value(json, "level", "dbu", l.levelDbu());
        value(json, "level", "mv", l.millivolt());
        value(json, "needed_gain", "db", l.neededGainDb())
                .put("available_gain_db", l.availableGainDb() == null ? null : JsonObject.number(l.availableGainDb()));
        value(json, "spare_gain", "db", l.spareGainDb())
                .put("enough", l.enough().word());
        value(json, "thermal_noise", "dbu", l.thermalDbu());
        value(json, "noise", "dbu", l.totalDbu());
        value(json, "noise_a", "dbu", l.totalADbu());
        value(json, "equivalent_noise", "db_spl", l.equivalentDb());
        value(json, "equivalent_noise_a", "db_spl", l.equivalentADb());
        return value(json, "noise_penalty", "db", l.penaltyDb()).number("noise_bandwidth_hz", l.coveredHz());
    }

    private static JsonObject value(JsonObject json, String key, String unit, PredictedValue p) {
        String end = unit.isEmpty() ? "" : "_" + unit;
        return json.number(key + end, p.value())
                .number(key + "_u95" + end, p.u95())
                .number(key + "_low" + end, p.low())
                .number(key + "_high" + end, p.high());
    }
}
