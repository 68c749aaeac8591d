package ohmprint.app.record;

import java.util.List;
import ohmprint.impedance.Finding;
import org.jspecify.annotations.Nullable;

/**
 * What a take is like, as far as it can be told at once.
 *
 * @param number its number in the plan, from 1
 * @param file name it gets when it is kept
 * @param loadOhm its load in ohms, infinite for none
 * @param usable whether nothing was found that spoils it
 * @param peakDbfs highest sample, dBFS
 * @param noiseDbfs level of the silence before the sound, dBFS; NaN without one
 * @param stepDb level against the take it was compared to, dB, or null for the first
 * @param comparedTo that take's file, or null
 * @param findings what was found
 */
public record TakeReport(
        int number,
        String file,
        double loadOhm,
        boolean usable,
        double peakDbfs,
        double noiseDbfs,
        @Nullable Double stepDb,
        @Nullable String comparedTo,
        List<Finding> findings) {
    /** Copies the list. */
    public TakeReport {
        findings = List.copyOf(findings);
    }
}
