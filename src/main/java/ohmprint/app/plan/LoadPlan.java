package ohmprint.app.plan;

import java.util.List;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FrequencyBands;
import org.jspecify.annotations.Nullable;

/**
 * Which loads to record.
 *
 * @param expected the impedance that was expected, in words
 * @param input the recording input, in words
 * @param bands bands that the predictions hold for
 * @param bench how steady and how quiet the bench is taken to be
 * @param tolerancePercent tolerance of the resistors, percent
 * @param wantedPercent wanted relative 95 % uncertainty of |Z| in percent, or null
 * @param sets sets of loads, lowest uncertainty in the worst band first
 * @param notes what else to know, sentences
 */
public record LoadPlan(
        String expected,
        String input,
        FrequencyBands bands,
        PlanRequest.Bench bench,
        double tolerancePercent,
        @Nullable Double wantedPercent,
        List<LoadSet> sets,
        List<String> notes) {
    /** Copies the lists. */
    public LoadPlan {
        sets = List.copyOf(sets);
        notes = List.copyOf(notes);
    }

    /**
     * One set of loads.
     *
     * @param loadsOhm different loads in ohms, ascending; infinite for no resistor
     * @param takeOrderOhm the takes in their order, the first load once more at the end
     * @param predicted what it gives
     * @param worstHz midband of the worst band, hertz
     * @param worstOhm |Z| there, ohms
     * @param worstBudget standard uncertainty of |Z| there by origin, ohms
     * @param changes what a change would give, largest gain first
     * @param secondsForWanted length of the sound that reaches the wanted uncertainty in all bands; infinite when none does;
     *     null when nothing was wanted
     * @param findings what to be careful about
     */
    public record LoadSet(
            List<Double> loadsOhm,
            List<Double> takeOrderOhm,
            Percent predicted,
            double worstHz,
            double worstOhm,
            BandBudget worstBudget,
            List<Change> changes,
            @Nullable Double secondsForWanted,
            List<Finding> findings) {
        /** Copies the lists. */
        public LoadSet {
            loadsOhm = List.copyOf(loadsOhm);
            takeOrderOhm = List.copyOf(takeOrderOhm);
            changes = List.copyOf(changes);
            findings = List.copyOf(findings);
        }
    }

    /**
     * Predicted relative 95 % uncertainty of |Z|.
     *
     * @param worst in the worst band, percent
     * @param median in the median band, percent
     */
    public record Percent(double worst, double median) {}

    /**
     * A change to the session and what it would give.
     *
     * @param change what to do differently
     * @param predicted what it would give
     */
    public record Change(String change, Percent predicted) {}
}
