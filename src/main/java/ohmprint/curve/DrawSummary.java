package ohmprint.curve;

import java.util.Arrays;

/**
 * What a set of random draws says about a quantity: mean, standard deviation and the shortest interval that holds 95 %
 * of them. All in the unit of the draws. Source: JCGM 101:2008, 7.6 and 7.7.
 *
 * @param mean arithmetic mean of the draws
 * @param standardUncertainty standard deviation of the draws (n − 1 in the denominator)
 * @param low95 lower end of the shortest 95 % interval
 * @param high95 upper end of the shortest 95 % interval
 */
public record DrawSummary(double mean, double standardUncertainty, double low95, double high95) {
    /** Fewest draws for which an interval is stated. */
    public static final int FEWEST_DRAWS = 100;

    private static final double COVERAGE = 0.95;

    /**
     * Summary of the given draws, in any order; the array is left as it is.
     *
     * @throws IllegalArgumentException for fewer than {@link #FEWEST_DRAWS} draws
     */
    public static DrawSummary of(double[] draws) {
        int n = draws.length;
        if (n < FEWEST_DRAWS) {
            throw new IllegalArgumentException(
                    "a 95 % interval needs " + FEWEST_DRAWS + " draws or more, not " + n + "; draw more often");
        }
        double[] sorted = draws.clone();
        Arrays.sort(sorted);
        double mean = Arrays.stream(sorted).sum() / n;
        double squares = 0;
        for (double v : sorted) {
            squares += (v - mean) * (v - mean);
        }
        int inside = (int) Math.round(COVERAGE * n);
        int best = 0;
        for (int i = 0; i + inside < n; i++) {
            if (sorted[i + inside] - sorted[i] < sorted[best + inside] - sorted[best]) {
                best = i;
            }
        }
        return new DrawSummary(mean, Math.sqrt(squares / (n - 1)), sorted[best], sorted[best + inside]);
    }
}
