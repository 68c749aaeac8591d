package ohmprint.report;

import java.util.Arrays;
import java.util.stream.IntStream;

/** Places for labels that would overlap where they belong. */
final class Spread {
    private Spread() {}

    /**
     * Places in the order of the wanted ones, at least so far apart, within a range as far as they fit. Not-a-number stays.
     *
     * @param wanted where labels belong
     * @param apart least distance
     * @param low least place
     * @param high greatest place
     */
    static double[] apart(double[] wanted, double apart, double low, double high) {
        int[] order = IntStream.range(0, wanted.length)
                .filter(i -> !Double.isNaN(wanted[i]))
                .boxed()
                .sorted((a, b) -> Double.compare(wanted[a], wanted[b]))
                .mapToInt(i -> i)
                .toArray();
        double[] placed = Arrays.copyOf(wanted, wanted.length);
        double least = low;
        for (int i : order) {
            placed[i] = Math.max(wanted[i], least);
            least = placed[i] + apart;
        }
        double most = high;
        for (int k = order.length - 1; k >= 0; k--) {
            int i = order[k];
            placed[i] = Math.min(placed[i], most);
            most = placed[i] - apart;
        }
        return placed;
    }
}
