package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import ohmprint.estimation.BinObservations;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.session.Take;

/**
 * What takes with the same load tell about the level between takes.
 *
 * <p>Each repetition shows the ratio of two gains, {@code Σ w·S_k1 ∕ Σ w·(S_11 − σ_1²)} with {@code w = 1/(σ_k² + σ_1²)}
 * ({@link BinObservations#weightedPair}). A drift that is linear in the order of the takes is fitted through all of them, {@code slope = Σ r·Δ/Σ Δ²} with Δ the distance in takes
 * of the session, those left out included, and taken out: a source drifts while takes are recorded that are left out later. How
 * far the other takes may be off follows from how far those of one load lie apart, before the drift is taken out:
 * {@code S = Σ (ln g − mean)²} over the takes of each load, on one degree of freedom for each repetition. See {@link LevelDrift}.
 *
 * @param slope fitted drift of ln g from one take to the next
 * @param squares S, 0 without repetitions
 * @param freedom number of repetitions
 * @param findings what is worth a word
 */
record RepeatDrift(double slope, double squares, int freedom, List<Finding> findings) {
    /** Nothing was repeated. */
    static final RepeatDrift NONE = new RepeatDrift(0, 0, 0, List.of());

    private static final double WORTH_A_WORD_DB = 0.02;

    /** Compares every take with the first one of the same load. */
    static RepeatDrift of(TakeSet takes) {
        Map<Double, Take> firsts = new LinkedHashMap<>();
        Map<Double, List<Double>> levels = new LinkedHashMap<>();
        List<Finding> findings = new ArrayList<>();
        double cross = 0;
        double square = 0;
        int repeats = 0;
        for (Take take : takes.takes()) {
            double ohm = take.load().ohm();
            Take first = firsts.putIfAbsent(ohm, take);
            if (first == null) {
                continue;
            }
            double ratio = logRatio(takes, take, first);
            int distance = takes.place(take) - takes.place(first);
            cross += ratio * distance;
            square += distance * distance;
            repeats++;
            levels.computeIfAbsent(ohm, f -> new ArrayList<>(List.of(0.0))).add(ratio);
            double decibels = decibels(ratio);
            if (Math.abs(decibels) > WORTH_A_WORD_DB) {
                findings.add(Wording.STEADY_DRIFT.of(take.file(), decibels, first.file()));
            }
        }
        if (repeats == 0) {
            return NONE;
        }
        double squares =
                levels.values().stream().mapToDouble(RepeatDrift::aboutMean).sum();
        return new RepeatDrift(cross / square, squares, repeats, List.copyOf(findings));
    }

    /** Level of a take over that of an earlier one, which has the same load, in decibels. */
    static double levelDb(TakeSet takes, Take take, Take first) {
        return decibels(logRatio(takes, take, first));
    }

    private static double decibels(double logRatio) {
        return 20 * logRatio / Math.log(10);
    }

    private static double logRatio(TakeSet takes, Take take, Take earlier) {
        return takes.bins()
                .weightedPair(takes.index(take), takes.index(earlier))
                .logRatio();
    }

    private static double aboutMean(List<Double> level) {
        double mean = level.stream().mapToDouble(v -> v).average().orElse(0);
        return level.stream().mapToDouble(v -> (v - mean) * (v - mean)).sum();
    }

    /** The takes with the linear drift taken out of each, by its place in the session. */
    TakeSet levelled(TakeSet takes) {
        return slope == 0 ? takes : takes.dividedBy(take -> Math.exp(slope * takes.place(take)));
    }
}
