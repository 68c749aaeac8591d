package ohmprint.app.workspace;

import java.util.List;
import ohmprint.app.LoadPlan;
import ohmprint.app.UncertaintyOrigin;
import org.jspecify.annotations.Nullable;

/**
 * Which loads to record, in plain values.
 *
 * @param expected the impedance that was expected, in words
 * @param input the recording input, in words
 * @param lowestHz lowest midband that the predictions hold for, hertz
 * @param highestHz highest
 * @param bandsPerOctave the grid
 * @param driftPercent level from take to take, percent
 * @param tolerancePercent tolerance of the resistors, percent
 * @param snrDb signal over noise, decibels
 * @param seconds length of the sound
 * @param wantedPercent wanted relative 95 % uncertainty of |Z| in percent, or null
 * @param sets sets of loads, lowest uncertainty in the worst band first
 * @param notes what else to know, sentences
 */
public record PlanView(
        String expected,
        String input,
        double lowestHz,
        double highestHz,
        int bandsPerOctave,
        double driftPercent,
        double tolerancePercent,
        double snrDb,
        double seconds,
        @Nullable Double wantedPercent,
        List<LoadSet> sets,
        List<String> notes) {
    /**
     * One set of loads.
     *
     * @param loadsOhm different loads, ascending
     * @param takeOrderOhm the takes in their order, the first load once more at the end
     * @param predictedWorstU95Percent predicted relative 95 % uncertainty of |Z| in the worst band; infinite is out of reach
     * @param predictedMedianU95Percent in the median band
     * @param worstHz midband of the worst band, hertz
     * @param dominatedBy the largest origin of uncertainty there
     * @param changes what a change would give
     * @param secondsForWanted length of the sound that reaches the wanted uncertainty; infinite when none does; null when
     *     nothing was wanted
     * @param findings what to be careful about
     */
    public record LoadSet(
            List<Ohms> loadsOhm,
            List<Ohms> takeOrderOhm,
            double predictedWorstU95Percent,
            double predictedMedianU95Percent,
            double worstHz,
            String dominatedBy,
            List<Change> changes,
            @Nullable Double secondsForWanted,
            List<FindingView> findings) {
        static LoadSet of(LoadPlan.LoadSet set) {
            return new LoadSet(
                    set.loadsOhm().stream().map(Ohms::new).toList(),
                    set.takeOrderOhm().stream().map(Ohms::new).toList(),
                    set.predicted().worst(),
                    set.predicted().median(),
                    set.worstHz(),
                    UncertaintyOrigin.largest(set.worstBudget()).word(),
                    set.changes().stream()
                            .map(c -> new Change(
                                    c.change(),
                                    c.predicted().worst(),
                                    c.predicted().median()))
                            .toList(),
                    set.secondsForWanted(),
                    FindingView.of(set.findings()));
        }
    }

    /**
     * A change to the session and what it would give.
     *
     * @param change what to do differently
     * @param predictedWorstU95Percent relative 95 % uncertainty in the worst band, percent
     * @param predictedMedianU95Percent in the median band, percent
     */
    public record Change(String change, double predictedWorstU95Percent, double predictedMedianU95Percent) {}

    static PlanView of(LoadPlan plan) {
        return new PlanView(
                plan.expected(),
                plan.input(),
                plan.bands().midband(0),
                plan.bands().midband(plan.bands().size() - 1),
                plan.bands().fraction(),
                plan.bench().driftPercent(),
                plan.tolerancePercent(),
                plan.bench().snrDb(),
                plan.bench().seconds(),
                plan.wantedPercent(),
                plan.sets().stream().map(LoadSet::of).toList(),
                plan.notes());
    }
}
