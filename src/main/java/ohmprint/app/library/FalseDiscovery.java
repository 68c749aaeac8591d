package ohmprint.app.library;

import java.util.Arrays;
import java.util.Comparator;
import java.util.stream.IntStream;

/**
 * The rule of Benjamini and Hochberg: of many tests, calls as many positive as possible while of those no more than a given
 * share is expected to be so by chance.
 *
 * <p>With the p-values in ascending order, all up to the last with {@code p_(k) ≤ k·q/m} are positive. Source: Benjamini and
 * Hochberg 1995, J. R. Statist. Soc. B 57, 289, procedure (1).
 */
final class FalseDiscovery {
    private FalseDiscovery() {}

    /**
     * Which tests are positive.
     *
     * @param p p-values in any order, not-a-number for tests that were not made
     * @param share largest expected share of false ones among the positive, q
     */
    static boolean[] positive(double[] p, double share) {
        Integer[] made = IntStream.range(0, p.length)
                .filter(i -> !Double.isNaN(p[i]))
                .boxed()
                .toArray(Integer[]::new);
        Arrays.sort(made, Comparator.comparingDouble(i -> p[i]));
        int last = 0;
        for (int k = 1; k <= made.length; k++) {
            if (p[made[k - 1]] <= k * share / made.length) {
                last = k;
            }
        }
        boolean[] positive = new boolean[p.length];
        for (int k = 0; k < last; k++) {
            positive[made[k]] = true;
        }
        return positive;
    }
}
