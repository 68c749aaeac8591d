package ohmprint.app;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
import ohmprint.estimate.BinObservations;
import ohmprint.session.Take;

/**
 * What takes with the same load tell about the level between takes.
 *
 * <p>Each repetition shows the ratio of two gains. A drift that is linear in the order of the takes is fitted through all
 * of them, {@code slope = Σ r·Δ/Σ Δ²} with Δ the distance in takes, and taken out; what is left between the takes is
 * estimated as a random walk tied down at the repetitions, which for A-B-A leaves {@code r/2} on B.
 *
 * @param logRatios ln of the level of each repetition over that of the first take with its load
 * @param slope fitted drift of ln g from one take to the next
 * @param gain standard uncertainty of ln g that is left, 0 without repetitions
 * @param findings what is worth a word
 */
record RepeatedLoads(List<Double> logRatios, double slope, double gain, List<Finding> findings) {
    /** Nothing was repeated. */
    static final RepeatedLoads NONE = new RepeatedLoads(List.of(), 0, 0, List.of());

    /** r/2 on one of three takes, spread as equal uncertainties over all: 1/(2·√1.5). */
    private static final double BRIDGE = 0.41;

    private static final double WORTH_A_WORD_DB = 0.02;

    /** Compares every take with the first one of the same load. */
    static RepeatedLoads of(BinObservations bins, List<Take> takes) {
        List<Double> ratios = new ArrayList<>();
        List<Integer> distances = new ArrayList<>();
        List<Finding> findings = new ArrayList<>();
        for (int k = 0; k < takes.size(); k++) {
            int first = firstWithLoad(takes, k);
            if (first == k) {
                continue;
            }
            double ratio = logRatio(bins, k, first);
            ratios.add(ratio);
            distances.add(k - first);
            double decibels = 20 * ratio / Math.log(10);
            if (Math.abs(decibels) > WORTH_A_WORD_DB) {
                findings.add(new Finding(
                        FindingCode.LEVEL_DRIFT,
                        takes.get(k).file(),
                        String.format(
                                Locale.ROOT,
                                "is %+.3f dB against %s with the same load; a steady drift has been taken out: let the"
                                        + " equipment warm up and touch nothing between takes",
                                decibels,
                                takes.get(first).file())));
            }
        }
        return ratios.isEmpty() ? NONE : fitted(ratios, distances, findings);
    }

    /** Level of take {@code k} over that of take {@code first}, which has the same load, in decibels. */
    static double levelDb(BinObservations bins, int k, int first) {
        return 20 * logRatio(bins, k, first) / Math.log(10);
    }

    private static double logRatio(BinObservations bins, int k, int first) {
        double re = 0;
        double im = 0;
        double power = 0;
        for (int i = 0; i < bins.size(); i++) {
            double weight = 1 / (bins.noise(i, k) + bins.noise(i, first));
            re += weight * bins.re(i, k, first);
            im += weight * bins.im(i, k, first);
            power += weight * bins.re(i, first, first);
        }
        return Math.log(Math.hypot(re, im) / power);
    }

    private static RepeatedLoads fitted(List<Double> ratios, List<Integer> distances, List<Finding> findings) {
        double cross = 0;
        double square = 0;
        for (int i = 0; i < ratios.size(); i++) {
            cross += ratios.get(i) * distances.get(i);
            square += distances.get(i) * distances.get(i);
        }
        double slope = cross / square;
        double left = 0;
        double total = 0;
        for (int i = 0; i < ratios.size(); i++) {
            left += Math.pow(ratios.get(i) - slope * distances.get(i), 2);
            total += ratios.get(i) * ratios.get(i);
        }
        double scatter = Math.sqrt(left / (2 * ratios.size()));
        double walk = BRIDGE * Math.sqrt(total / ratios.size());
        return new RepeatedLoads(List.copyOf(ratios), slope, Math.max(scatter, walk), List.copyOf(findings));
    }

    /** The takes with the linear drift taken out. */
    BinObservations levelled(BinObservations bins) {
        if (slope == 0) {
            return bins;
        }
        double[][] gain = new double[bins.takes()][bins.size()];
        for (int k = 0; k < gain.length; k++) {
            Arrays.fill(gain[k], Math.exp(slope * k));
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
