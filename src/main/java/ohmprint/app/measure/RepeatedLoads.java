package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode.Wording;
import ohmprint.estimate.BinObservations;
import ohmprint.session.Take;

/**
 * What takes with the same load tell about the level between takes.
 *
 * <p>Each repetition shows the ratio of two gains, {@code Σ w·S_k1 ∕ Σ w·(S_11 − σ_1²)} with {@code w = 1/(σ_k² + σ_1²)}. A drift that is linear in the order of the takes is fitted through all
 * of them, {@code slope = Σ r·Δ/Σ Δ²} with Δ the distance in takes of the session, those left out included, and taken out. How far the other takes may be off follows
 * from how far those of one load lie apart, before the drift is taken out: {@code S = Σ (ln g − mean)²} over the takes of each
 * load, on one degree of freedom for each repetition. See {@link GainScatter}.
 *
 * @param logRatios ln of the level of each repetition over that of the first take with its load
 * @param slope fitted drift of ln g from one take to the next
 * @param squares S, 0 without repetitions
 * @param freedom number of repetitions
 * @param findings what is worth a word
 */
record RepeatedLoads(List<Double> logRatios, double slope, double squares, int freedom, List<Finding> findings) {
    /** Nothing was repeated. */
    static final RepeatedLoads NONE = new RepeatedLoads(List.of(), 0, 0, 0, List.of());

    private static final double WORTH_A_WORD_DB = 0.02;
    /** Share of signal in the power of a take up to which its noise cannot be taken off with any sense. */
    private static final double LEAST_SIGNAL = 0.1;

    /**
     * Compares every take with the first one of the same load.
     *
     * @param bins what the takes hold
     * @param takes their entries
     * @param places their places among all takes of the session: a source drifts while takes are recorded that are left out later
     */
    static RepeatedLoads of(BinObservations bins, List<Take> takes, int[] places) {
        List<Double> ratios = new ArrayList<>();
        List<Integer> distances = new ArrayList<>();
        Map<Integer, List<Double>> levels = new LinkedHashMap<>();
        List<Finding> findings = new ArrayList<>();
        for (int k = 0; k < takes.size(); k++) {
            int first = firstWithLoad(takes, k);
            if (first == k) {
                continue;
            }
            double ratio = logRatio(bins, k, first);
            ratios.add(ratio);
            distances.add(places[k] - places[first]);
            levels.computeIfAbsent(first, f -> new ArrayList<>(List.of(0.0))).add(ratio);
            double decibels = 20 * ratio / Math.log(10);
            if (Math.abs(decibels) > WORTH_A_WORD_DB) {
                findings.add(Wording.STEADY_DRIFT.of(
                        takes.get(k).file(), decibels, takes.get(first).file()));
            }
        }
        return ratios.isEmpty() ? NONE : fitted(ratios, distances, levels.values(), findings);
    }

    /** Level of take {@code k} over that of take {@code first}, which has the same load, in decibels. */
    static double levelDb(BinObservations bins, int k, int first) {
        return 20 * logRatio(bins, k, first) / Math.log(10);
    }

    private static double logRatio(BinObservations bins, int k, int first) {
        double re = 0;
        double im = 0;
        double power = 0;
        double all = 0;
        for (int i = 0; i < bins.size(); i++) {
            double weight = 1 / (bins.noise(i, k) + bins.noise(i, first));
            re += weight * bins.re(i, k, first);
            im += weight * bins.im(i, k, first);
            power += weight * (bins.re(i, first, first) - bins.count(i) * bins.noise(i, first));
            all += weight * bins.re(i, first, first);
        }
        // A take that holds nothing but noise tells no level; what remains is the least bad comparison.
        return Math.log(Math.hypot(re, im) / (power > LEAST_SIGNAL * all ? power : all));
    }

    private static RepeatedLoads fitted(
            List<Double> ratios, List<Integer> distances, Collection<List<Double>> levels, List<Finding> findings) {
        double cross = 0;
        double square = 0;
        for (int i = 0; i < ratios.size(); i++) {
            cross += ratios.get(i) * distances.get(i);
            square += distances.get(i) * distances.get(i);
        }
        double squares = levels.stream().mapToDouble(RepeatedLoads::aboutMean).sum();
        return new RepeatedLoads(List.copyOf(ratios), cross / square, squares, ratios.size(), List.copyOf(findings));
    }

    private static double aboutMean(List<Double> level) {
        double mean = level.stream().mapToDouble(v -> v).average().orElse(0);
        return level.stream().mapToDouble(v -> (v - mean) * (v - mean)).sum();
    }

    /**
     * The takes with the linear drift taken out.
     *
     * @param places places of the takes among all of the session
     */
    BinObservations levelled(BinObservations bins, int[] places) {
        if (slope == 0) {
            return bins;
        }
        double[][] gain = new double[bins.takes()][bins.size()];
        for (int k = 0; k < gain.length; k++) {
            Arrays.fill(gain[k], Math.exp(slope * places[k]));
        }
        return bins.dividedBy(gain, new double[bins.takes()][bins.size()]);
    }

    private static int firstWithLoad(List<Take> takes, int k) {
        for (int j = 0; j < k; j++) {
            if (takes.get(j).load().ohm() == takes.get(k).load().ohm()) {
                return j;
            }
        }
        return k;
    }
}
