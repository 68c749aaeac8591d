package ohmprint.app;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
import ohmprint.estimate.BinObservations;
import ohmprint.session.Take;

/**
 * What takes with the same load tell about the level between takes.
 *
 * @param logRatios ln of the level of each repetition over that of the first take with its load
 * @param findings what is worth a word
 */
record RepeatedLoads(List<Double> logRatios, List<Finding> findings) {
    private static final double WORTH_A_WORD_DB = 0.02;

    /** Compares every take with the first one of the same load. */
    static RepeatedLoads of(BinObservations bins, List<Take> takes) {
        List<Double> ratios = new ArrayList<>();
        List<Finding> findings = new ArrayList<>();
        for (int k = 0; k < takes.size(); k++) {
            int first = firstWithLoad(takes, k);
            if (first == k) {
                continue;
            }
            double re = 0;
            double im = 0;
            double power = 0;
            for (int i = 0; i < bins.size(); i++) {
                double weight = 1 / (bins.noise(i, k) + bins.noise(i, first));
                re += weight * bins.re(i, k, first);
                im += weight * bins.im(i, k, first);
                power += weight * bins.re(i, first, first);
            }
            double ratio = Math.log(Math.hypot(re, im) / power);
            ratios.add(ratio);
            double decibels = 20 * ratio / Math.log(10);
            if (Math.abs(decibels) > WORTH_A_WORD_DB) {
                findings.add(new Finding(
                        FindingCode.LEVEL_DRIFT,
                        takes.get(k).file(),
                        String.format(
                                Locale.ROOT,
                                "is %+.3f dB against %s with the same load; the uncertainty allows for it: let the"
                                        + " equipment warm up and touch nothing between takes",
                                decibels,
                                takes.get(first).file())));
            }
        }
        return new RepeatedLoads(ratios, findings);
    }

    private static int firstWithLoad(List<Take> takes, int k) {
        for (int j = 0; j < k; j++) {
            if (takes.get(j).load().ohm() == takes.get(k).load().ohm()) {
                return j;
            }
        }
        return k;
    }

    /**
     * Standard uncertainty of ln g: the root mean square of the repetitions, each of which shows the difference of two
     * gains, {@code √(Σr²/(2n))}, but not less than what is believed beforehand. Source: JCGM 100:2008, 4.2 (type A).
     */
    double gain(double prior) {
        double sum = logRatios.stream().mapToDouble(r -> r * r).sum();
        return logRatios.isEmpty() ? prior : Math.max(prior, Math.sqrt(sum / (2 * logRatios.size())));
    }
}
