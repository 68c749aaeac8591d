package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
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
                out.add(new Finding(
                        FindingCode.LEVEL_DRIFT,
                        takes.get(k).file(),
                        String.format(
                                Locale.ROOT,
                                "the source was %+.2f dB against the first take, by the reference channel; it has been taken"
                                        + " out",
                                drift)));
            }
        }
        return out;
    }
}
