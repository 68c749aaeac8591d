package ohmprint.estimation;

import java.util.Arrays;
import java.util.stream.IntStream;
import ohmprint.impedance.FrequencyBands;

/**
 * Whether takes recorded at two levels tell the same, in third-octave bands.
 *
 * <p>Through two loads the takes of one level give {@code Z = (r − 1)/(y_b − r·y_a)}, {@code r = D_a/D_b}, which does not
 * depend on the level as long as the chain is linear: {@link #ofImpedance} compares the two values of |Z|. Where only one
 * load was recorded at both levels, {@link #ofShape} compares the ratio of the two takes with its own mean: a linear chain
 * multiplies all frequencies alike.
 *
 * @param hz frequency of the band that differs most, hertz; NaN where no band can be compared
 * @param largest the relative difference there, with its sign
 * @param median median of the sizes of the differences of all bands
 * @param significant number of bands whose difference exceeds its uncertainty three times and the least that counts
 */
public record LevelCheck(double hz, double largest, double median, int significant) {
    private static final int FRACTION = 3;
    private static final double FROM_HZ = 40;
    private static final double TO_HZ = 16_000;
    private static final int LEAST_BINS = 4;
    private static final double COVERAGE = 3;
    /** Largest relative noise of a band's level that is compared at all. */
    private static final double NOISY = 0.05;

    /**
     * Compares |Z| at two levels.
     *
     * @param obs what the takes hold
     * @param takes what they drive
     * @param lower indices of two takes with different loads at the lower level
     * @param higher indices of two takes with the same two loads at the higher level
     * @param drift standard uncertainty of ln g of each take
     * @param least smallest relative difference that counts
     */
    public static LevelCheck ofImpedance(
            BinObservations obs, LoadedTakes takes, int[] lower, int[] higher, double drift, double least) {
        FrequencyBands bands = FrequencyBands.within(FRACTION, FROM_HZ, TO_HZ);
        double[] difference = new double[bands.size()];
        double[] uncertainty = new double[bands.size()];
        double[] yRe = new double[takes.size()];
        double[] yIm = new double[takes.size()];
        for (int b = 0; b < difference.length; b++) {
            takes.admittances(bands.midband(b), yRe, yIm);
            Ratio low = Ratio.of(obs, bands, b, lower[0], lower[1]);
            Ratio high = Ratio.of(obs, bands, b, higher[0], higher[1]);
            double z = low.impedance(yRe[lower[0]], yIm[lower[0]], yRe[lower[1]], yIm[lower[1]]);
            difference[b] = high.impedance(yRe[higher[0]], yIm[higher[0]], yRe[higher[1]], yIm[higher[1]]) / z - 1;
            double step = 1e-4;
            double response =
                    low.times(1 + step).impedance(yRe[lower[0]], yIm[lower[0]], yRe[lower[1]], yIm[lower[1]]) / z - 1;
            double sd = Math.sqrt(low.sd * low.sd + high.sd * high.sd + 4 * drift * drift);
            uncertainty[b] = low.sd < NOISY && high.sd < NOISY ? Math.abs(response / step) * sd : Double.NaN;
        }
        return judged(bands, difference, uncertainty, least);
    }

    /**
     * Compares the shape of two takes through one load.
     *
     * @param obs what the takes hold
     * @param lower index of the take at the lower level
     * @param higher index of the take at the higher level
     * @param least smallest relative difference that counts
     */
    public static LevelCheck ofShape(BinObservations obs, int lower, int higher, double least) {
        FrequencyBands bands = FrequencyBands.within(FRACTION, FROM_HZ, TO_HZ);
        double[] level = new double[bands.size()];
        double[] uncertainty = new double[bands.size()];
        for (int b = 0; b < level.length; b++) {
            Ratio ratio = Ratio.of(obs, bands, b, higher, lower);
            level[b] = Math.hypot(ratio.re, ratio.im);
            uncertainty[b] = ratio.sd < NOISY ? ratio.sd : Double.NaN;
        }
        double[] usable = IntStream.range(0, level.length)
                .filter(b -> uncertainty[b] >= 0)
                .mapToDouble(b -> level[b])
                .sorted()
                .toArray();
        double middle = usable.length == 0 ? Double.NaN : usable[usable.length / 2];
        double[] difference = Arrays.stream(level).map(l -> l / middle - 1).toArray();
        return judged(bands, difference, uncertainty, least);
    }

    private static LevelCheck judged(FrequencyBands bands, double[] difference, double[] uncertainty, double least) {
        int[] usable = IntStream.range(0, difference.length)
                .filter(b -> uncertainty[b] >= 0 && Double.isFinite(difference[b]))
                .toArray();
        if (usable.length == 0) {
            return new LevelCheck(Double.NaN, Double.NaN, Double.NaN, 0);
        }
        int[] significant = Arrays.stream(usable)
                .filter(b -> Math.abs(difference[b]) > Math.max(least, COVERAGE * uncertainty[b]))
                .toArray();
        int most = Arrays.stream(significant.length > 0 ? significant : usable)
                .boxed()
                .max((a, b) -> Double.compare(Math.abs(difference[a]), Math.abs(difference[b])))
                .orElseThrow();
        double[] sizes = Arrays.stream(usable)
                .mapToDouble(b -> Math.abs(difference[b]))
                .sorted()
                .toArray();
        return new LevelCheck(bands.midband(most), difference[most], sizes[sizes.length / 2], significant.length);
    }

    /** D_a/D_b in a band, and the standard deviation of its logarithm from noise. */
    private record Ratio(double re, double im, double sd) {
        static Ratio of(BinObservations obs, FrequencyBands bands, int band, int a, int b) {
            int from = obs.firstAtOrAbove(bands.lowerEdge(band));
            int to = obs.firstAtOrAbove(bands.upperEdge(band));
            BinObservations.Pair both = obs.pair(from, to, a, b);
            double signal = both.signal();
            double ownSignal = both.own() - both.ownNoise();
            if (to - from < LEAST_BINS || !(signal > 0) || !(ownSignal > 0)) {
                return new Ratio(1, 0, Double.POSITIVE_INFINITY);
            }
            double sd = Math.sqrt(
                    (both.ownNoise() / ownSignal + both.otherNoise() / signal) / (2 * both.count() * obs.averages()));
            return new Ratio(both.re() / signal, both.im() / signal, sd);
        }

        Ratio times(double factor) {
            return new Ratio(re * factor, im * factor, sd);
        }

        /** |r − 1|/|y_b − r·y_a|, ohms. */
        double impedance(double yaRe, double yaIm, double ybRe, double ybIm) {
            double below = Math.hypot(ybRe - (re * yaRe - im * yaIm), ybIm - (re * yaIm + im * yaRe));
            return Math.hypot(re - 1, im) / below;
        }
    }
}
