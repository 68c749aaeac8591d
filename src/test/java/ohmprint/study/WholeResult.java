package ohmprint.study;

import java.util.Arrays;
import java.util.List;
import ohmprint.impedance.Usability;
import org.apache.commons.math3.stat.descriptive.rank.Percentile;

/**
 * What the sessions of one kind gave.
 *
 * @param kind the kind
 * @param sessions number of sessions
 * @param magnitudeCoverage share of all intervals of |Z| that hold the truth
 * @param phaseCoverage the same of the phase; NaN where there is none
 * @param lowestCoverage lowest such share of |Z| in one session
 * @param medianErrorPercent median of the size of the relative error of |Z|
 * @param highErrorPercent 95th percentile of it
 * @param statedPercent median of the stated 95 % uncertainty
 * @param biasPercent mean of the relative error
 * @param peakCoverage share of sessions whose interval of |Z| next to a resonance holds the truth; NaN without resonances
 * @param told sessions in which the faulty take was named, or, of sound sessions, in which a take was accused
 * @param usable sessions called usable
 */
record WholeResult(
        WholeKind kind,
        int sessions,
        double magnitudeCoverage,
        double phaseCoverage,
        double lowestCoverage,
        double medianErrorPercent,
        double highErrorPercent,
        double statedPercent,
        double biasPercent,
        double peakCoverage,
        long told,
        long usable) {
    /** Sums up the sessions. */
    static WholeResult of(WholeKind kind, List<WholeSession.Score> scores) {
        double[] error = scores.stream()
                .flatMapToDouble(s -> Arrays.stream(s.errorPercent()))
                .toArray();
        double[] size = Arrays.stream(error).map(Math::abs).toArray();
        double[] stated = scores.stream()
                .flatMapToDouble(s -> Arrays.stream(s.statedPercent()))
                .toArray();
        double phases = scores.stream().mapToInt(WholeSession.Score::phases).sum();
        return new WholeResult(
                kind,
                scores.size(),
                scores.stream().mapToInt(WholeSession.Score::inMagnitude).sum() / (double) error.length,
                scores.stream().mapToInt(WholeSession.Score::inPhase).sum() / phases,
                scores.stream()
                        .filter(s -> s.errorPercent().length > 0)
                        .mapToDouble(s -> (double) s.inMagnitude() / s.errorPercent().length)
                        .min()
                        .orElse(Double.NaN),
                new Percentile(50).evaluate(size),
                new Percentile(95).evaluate(size),
                new Percentile(50).evaluate(stated),
                Arrays.stream(error).average().orElse(Double.NaN),
                scores.stream()
                        .filter(s -> s.atPeak() != null)
                        .mapToDouble(s -> Boolean.TRUE.equals(s.atPeak()) ? 1 : 0)
                        .average()
                        .orElse(Double.NaN),
                scores.stream().filter(WholeSession.Score::told).count(),
                scores.stream().filter(s -> s.usability() == Usability.USABLE).count());
    }
}
