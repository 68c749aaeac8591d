package ohmprint.app.record;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import ohmprint.dsp.TakeIndicators;
import ohmprint.impedance.Finding;
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
        List<Finding> own = TakeChecks.of(recorded);
        List<Finding> findings = new ArrayList<>(TakeChecks.named(own, name));
        LoadPlausibility loads = LoadPlausibility.of(recorded, expectedOhm);
        Finding mismatch = loads == null ? null : loads.finding();
        boolean spoilt = false;
        if (loads != null && mismatch != null) {
            spoilt = loads.spoils() && !TakeChecks.usable(recorded.inspection().indicators(), List.of(mismatch));
            String about = mismatch.take();
            findings.add(new Finding(
                    mismatch.code(), recorded.take().file().equals(about) ? name : about, mismatch.message()));
        }
        TakeIndicators seen = recorded.inspection().indicators();
        return new TakeReport(
                number,
                name,
                recorded.take().load().ohm(),
                TakeChecks.usable(seen, own) && !spoilt,
                20 * Math.log10(seen.peak()),
                seen.leadInDbfs(),
                loads == null ? null : loads.db(),
                loads == null ? null : loads.comparedTo(),
                findings);
    }
}
