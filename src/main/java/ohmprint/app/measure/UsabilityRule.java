package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Predicate;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Severity;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.Usability;
import ohmprint.text.Numbers;

/**
 * How far a curve can be trusted, from what it shows and from what else was noticed.
 *
 * <p>Unusable: a clipped or interrupted take, takes that cannot be aligned, takes that contradict each
 * other so much that the curve depends on which of them is believed, silence, a negative resistance in a tenth of the bands, or no band with a
 * statement. Doubtful: a take that disagrees, takes that contradict each other, a clock that does not hold, an unknown input, a third of the bands without a
 * value. Hum, weak bands and drift that the reference channel has taken out are mentioned only.
 */
final class UsabilityRule {
    private static final double LOW_SNR_DB = 20;
    private static final double COVERAGE = 3;
    private static final double MANY_REJECTED = 1.0 / 3;
    private static final double MANY_NEGATIVE = 0.1;

    private UsabilityRule() {}

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
                curve.values().stream().filter(UsabilityRule::isNegative).count();
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

    /** What the curve itself shows: bands with little signal, without any, and with a resistance that no source has. */
    static List<Finding> findings(ImpedanceCurve curve) {
        List<Finding> out = new ArrayList<>();
        String weak = ranges(curve, v -> v.status() != BandStatus.REJECTED && v.snrDb() < LOW_SNR_DB);
        String none = ranges(curve, v -> v.status() == BandStatus.REJECTED);
        if (!weak.isEmpty()) {
            out.add(Wording.WEAK_BANDS.of(null, weak));
        }
        if (!none.isEmpty()) {
            out.add(Wording.EMPTY_BANDS.of(null, none));
        }
        // One band alone is left to chance.
        if (curve.values().stream().filter(UsabilityRule::isNegative).count() > 1) {
            out.add(Wording.BELOW_ZERO.of(null, ranges(curve, UsabilityRule::isNegative)));
        }
        return out;
    }

    /** True for a resistance below zero beyond its uncertainty, in a band with a clear signal. */
    private static boolean isNegative(BandValue v) {
        PlaneCovariance c = v.covariance();
        return c != null
                && v.isMeasured()
                && v.snrDb() >= LOW_SNR_DB
                && v.resistanceOhm() < -COVERAGE * Math.sqrt(c.varR());
    }

    /** Runs of bands that meet a condition, as {@code 20–31 Hz, 16–20 kHz}; of many only the first five. */
    private static String ranges(ImpedanceCurve curve, Predicate<BandValue> condition) {
        List<String> runs = new ArrayList<>();
        List<BandValue> values = curve.values();
        int i = 0;
        while (i < values.size()) {
            if (!condition.test(values.get(i))) {
                i++;
                continue;
            }
            int j = i;
            while (j + 1 < values.size() && condition.test(values.get(j + 1))) {
                j++;
            }
            String from = Numbers.briefFrequency(values.get(i).frequencyHz());
            String to = Numbers.briefFrequency(values.get(j).frequencyHz());
            runs.add(from.equals(to) ? from : from + " to " + to);
            i = j + 1;
        }
        String more = runs.size() > 5 ? " and " + (runs.size() - 5) + " more ranges" : "";
        return String.join(", ", runs.subList(0, Math.min(5, runs.size()))) + more;
    }
}
