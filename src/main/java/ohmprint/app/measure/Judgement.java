package ohmprint.app.measure;

import java.util.Comparator;
import java.util.List;
import ohmprint.curve.BandStatus;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode.Severity;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Usability;

/**
 * How far a curve can be trusted, from what was noticed.
 *
 * <p>Unusable: a clipped or interrupted take, takes that cannot be aligned, takes that contradict each
 * other so much that the curve depends on which of them is believed, silence, a negative resistance in a tenth of the bands, or no band with a
 * statement. Doubtful: a take that disagrees, takes that contradict each other, a clock that does not hold, an unknown input, a third of the bands without a
 * value. Hum, weak bands and drift that the reference channel has taken out are mentioned only.
 */
final class Judgement {
    private static final double MANY_REJECTED = 1.0 / 3;
    private static final double MANY_NEGATIVE = 0.1;

    private Judgement() {}

    /**
     * The verdict.
     *
     * @param curve the curve
     * @param findings what was noticed
     * @param comparable whether the takes can be aligned, and do not contradict each other grossly
     * @param uncorrectedDrift whether a level changed by an amount that is not known
     */
    static Usability of(ImpedanceCurve curve, List<Finding> findings, boolean comparable, boolean uncorrectedDrift) {
        double bands = curve.bands().size();
        double rejected = curve.count(BandStatus.REJECTED) / bands;
        long negative =
                curve.values().stream().filter(CurveFindings::isNegative).count();
        if (!comparable || holds(findings, Severity.FATAL) || rejected == 1 || negative > MANY_NEGATIVE * bands) {
            return Usability.UNUSABLE;
        }
        boolean doubt = uncorrectedDrift || rejected > MANY_REJECTED || holds(findings, Severity.DOUBT);
        return doubt ? Usability.DOUBTFUL : Usability.USABLE;
    }

    /** The same findings, what spoils a take first, then what makes doubtful, then the rest. */
    static List<Finding> mostSeriousFirst(List<Finding> findings) {
        return findings.stream()
                .sorted(Comparator.comparing(f -> f.code().severity()))
                .toList();
    }

    private static boolean holds(List<Finding> findings, Severity severity) {
        return findings.stream().anyMatch(f -> f.code().severity() == severity);
    }
}
