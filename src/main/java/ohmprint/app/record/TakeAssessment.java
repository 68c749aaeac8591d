package ohmprint.app.record;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.Finding;
import ohmprint.signal.TakeIndicators;
import org.jspecify.annotations.Nullable;

/** What the checks and the level against the kept takes say about a take, in one report. */
final class TakeAssessment {
    private TakeAssessment() {}

    /**
     * Assesses a take.
     *
     * @param number its number in the plan, from 1
     * @param name name it gets when it is kept
     * @param expectedOhm the expected impedance in ohms, or null when nothing is known
     * @throws IOException if the take cannot be read
     */
    static TakeReport of(RecordedTake recorded, int number, String name, @Nullable Double expectedOhm)
            throws IOException {
        List<Finding> findings = new ArrayList<>(TakeChecks.of(recorded));
        LoadStep loads = LoadStep.of(recorded, expectedOhm);
        Finding mismatch = loads == null ? null : loads.finding();
        if (mismatch != null) {
            findings.add(mismatch);
        }
        TakeIndicators seen = recorded.inspection().indicators();
        return new TakeReport(
                number,
                name,
                recorded.take().load().ohm(),
                TakeChecks.usable(seen, findings),
                20 * Math.log10(seen.peak()),
                seen.leadInDbfs(),
                loads == null ? null : loads.db(),
                loads == null ? null : loads.comparedTo(),
                TakeChecks.named(findings, name));
    }
}
