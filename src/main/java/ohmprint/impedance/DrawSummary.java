package ohmprint.impedance;

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
        int n = enough(draws);
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

    /**
     * Half-width of the interval around an estimate that holds 95 % of the draws. Unlike the shortest interval it hardly
     * depends on chance where the distribution is flat.
     *
     * @throws IllegalArgumentException for fewer than {@link #FEWEST_DRAWS} draws
     */
    static double halfWidth(double[] draws, double estimate) {
        int n = enough(draws);
        double[] away = new double[n];
        Arrays.setAll(away, i -> Math.abs(draws[i] - estimate));
        Arrays.sort(away);
        return away[(int) Math.ceil(COVERAGE * n) - 1];
    }

    private static int enough(double[] draws) {
        if (draws.length < FEWEST_DRAWS) {
            throw new IllegalArgumentException("a 95 % interval needs " + FEWEST_DRAWS + " draws or more, not "
                    + draws.length + "; draw more often");
        }
        return draws.length;
    }
}
