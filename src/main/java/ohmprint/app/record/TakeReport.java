package ohmprint.app.record;

import java.io.IOException;
import java.util.ArrayList;
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

    /**
     * What the checks and the level against the kept takes say about a take.
     *
     * @param number its number in the plan, from 1
     * @param name name it gets when it is kept
     * @param expectedOhm the expected impedance in ohms, or null when nothing is known
     * @throws IOException if the take cannot be read
     */
    static TakeReport of(RecordedTake recorded, int number, String name, @Nullable Double expectedOhm)
            throws IOException {
        List<Finding> findings = new ArrayList<>(recorded.findings(name));
        boolean usable = recorded.usable(findings);
        LoadPlausibility loads = LoadPlausibility.of(recorded, expectedOhm);
        Finding mismatch = loads == null ? null : loads.finding();
        if (mismatch != null) {
            boolean ofThis = recorded.take().file().equals(mismatch.take());
            findings.add(ofThis ? new Finding(mismatch.code(), name, mismatch.message()) : mismatch);
            usable &= !(ofThis && mismatch.code().spoilsTake());
        }
        return new TakeReport(
                number,
                name,
                recorded.take().load().ohm(),
                usable,
                recorded.peakDbfs(),
                recorded.seen().leadInDbfs(),
                loads == null ? null : loads.db(),
                loads == null ? null : loads.comparedTo(),
                findings);
    }
}
