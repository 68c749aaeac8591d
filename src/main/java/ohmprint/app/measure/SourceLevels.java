package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode.Wording;
import ohmprint.session.Take;

/** Drift of the source as the reference channels saw it. */
final class SourceLevels {
    private static final double WORTH_A_WORD_DB = 0.02;

    private SourceLevels() {}

    /** One finding for each take whose source level differs from the first one's; it has been taken out already. */
    static List<Finding> findings(Observation seen, List<Take> takes) {
        List<Finding> out = new ArrayList<>();
        for (int k = 0; k < takes.size(); k++) {
            double drift = seen.driftDb()[k];
            if (Math.abs(drift) > WORTH_A_WORD_DB) {
                out.add(Wording.SOURCE_DRIFT.of(takes.get(k).file(), drift));
            }
        }
        return out;
    }
}
