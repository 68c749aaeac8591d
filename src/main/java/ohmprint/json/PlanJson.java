package ohmprint.json;

import ohmprint.app.plan.LoadPlan;
import ohmprint.app.plan.LoadPlan.LoadSet;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.CauseOrigin;

/** Which loads to record. */
public final class PlanJson {
    private PlanJson() {}

    /** The outcome of {@code plan}; what was wanted, and what it takes, only when something was. */
    public static JsonObject plan(LoadPlan plan) {
        return new JsonObject()
                .put("expected", plan.expected())
                .put("input", plan.input())
                .number("lowest_hz", plan.bands().midband(0))
                .number("highest_hz", plan.bands().midband(plan.bands().size() - 1))
                .number("bands_per_octave", plan.bands().fraction())
                .number("drift_percent", plan.bench().driftPercent())
                .number("tolerance_percent", plan.tolerancePercent())
                .number("snr_db", plan.bench().snrDb())
                .number("seconds", plan.bench().seconds())
                .list("sets", plan.sets(), set -> set(plan, set))
                .put("notes", plan.notes());
    }

    private static JsonObject set(LoadPlan plan, LoadSet set) {
        BandBudget budget = set.worstBudget();
        JsonObject causes = new JsonObject();
        for (CauseOrigin cause : CauseOrigin.values()) {
            causes.number(cause.word(), budget.of(cause));
        }
        JsonObject json = percent(
                        new JsonObject()
                                .list("loads_ohm", set.loadsOhm(), PlanJson::load)
                                .list("take_order_ohm", set.takeOrderOhm(), PlanJson::load),
                        set.predicted())
                .number("worst_hz", set.worstHz())
                .put("dominated_by", budget.largest().word())
                .put("worst_budget_ohm", causes)
                .list(
                        "changes",
                        set.changes(),
                        change -> percent(new JsonObject().put("change", change.change()), change.predicted()));
        if (plan.wantedPercent() != null) {
            json.number("wanted_u95_percent", plan.wantedPercent());
        }
        if (set.secondsForWanted() != null) {
            json.number("seconds_for_wanted", set.secondsForWanted());
        }
        return json.list("findings", set.findings(), MeasurementJson::findingAlone);
    }

    private static JsonObject percent(JsonObject json, LoadPlan.Percent predicted) {
        return json.number("predicted_median_u95_percent", predicted.median())
                .number("predicted_worst_u95_percent", predicted.worst());
    }

    private static Object load(double ohm) {
        return Double.isInfinite(ohm) ? "open" : JsonObject.number(ohm);
    }
}
