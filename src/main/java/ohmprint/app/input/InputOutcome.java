package ohmprint.app.input;

import ohmprint.app.measure.MeasureOutcome;
import org.jspecify.annotations.Nullable;

/**
 * What came of measuring an input.
 *
 * @param measured curve, verdict, findings, files
 * @param parallel resistance and capacitance that describe it, or null when the curve does not determine them
 */
public record InputOutcome(
        MeasureOutcome measured, @Nullable ParallelInput parallel) {
    /**
     * A resistance in parallel with a capacitance.
     *
     * @param ohm resistance in ohms
     * @param ohmU95 its 95 % uncertainty in ohms
     * @param pf capacitance in picofarads
     * @param pfU95 its 95 % uncertainty in picofarads
     * @param largestMisfitPercent how far the curve is from them at most, percent of |Z|
     * @param worstHz where that is, hertz
     * @param describes whether they describe the curve
     */
    public record ParallelInput(
            double ohm,
            double ohmU95,
            double pf,
            double pfU95,
            double largestMisfitPercent,
            double worstHz,
            boolean describes) {}
}
