package ohmprint.estimation;

import java.util.Arrays;
import java.util.stream.IntStream;

/**
 * Noise of takes that no silence tells, from how the bins of a narrow range scatter.
 *
 * <p>Within a range the ratio of two takes of one sound is a straight line in frequency, {@code D_k = (g + g'·x)·D_p + e}: the
 * dividers change little there, and the room is the same in both. What is left over by least squares has the variance
 * {@code σ_k² + |g|²·σ_p²} in each bin. Where the other take's noise is known it is subtracted; where it is not, both are taken to
 * have the same, as takes of one gain have whose noise comes from the preamplifier. A range is {@value #BINS} bins or a
 * twenty-fourth of an octave, whichever is more, and the mean of {@value #SMOOTHED} ranges to either side is taken.
 */
public final class NoiseByScatter {
    private static final int BINS = 10;
    private static final int PER_OCTAVE = 24;
    private static final int SMOOTHED = 2;
    private static final int TERMS = 2;
    /** Share of what is left over that is the take's own at least, however much the other one is said to have. */
    private static final double LEAST_SHARE = 0.05;
    /** Noise over signal power that is stated at least, far below what any converter has. */
    private static final double LEAST = 1e-16;

    private NoiseByScatter() {}

    /**
     * Puts the noise of some takes in place of what was stated.
     *
     * @param bins what takes of one sound hold, aligned to whole samples; its noise is changed
     * @param unknown for each take whether its noise is not known
     * @param pivot the take with the most signal, which the others are compared with when no take's noise is known
     */
    public static void into(BinObservations bins, boolean[] unknown, int pivot) {
        int known = IntStream.range(0, unknown.length)
                .filter(k -> !unknown[k])
                .findFirst()
                .orElse(-1);
        int[] edges = edges(bins);
        if (bins.takes() < 2 || edges.length < 2) {
            return;
        }
        double[][] found = new double[bins.takes()][];
        for (int k = 0; k < bins.takes(); k++) {
            int other = known >= 0 ? known : k == pivot ? (pivot == 0 ? 1 : 0) : pivot;
            if (unknown[k]) {
                found[k] = smoothed(ranges(bins, edges, k, other, known >= 0));
            }
        }
        for (int k = 0; k < found.length; k++) {
            for (int r = 0; unknown[k] && r + 1 < edges.length; r++) {
                for (int i = edges[r]; i < edges[r + 1]; i++) {
                    bins.setNoise(i, k, Math.max(found[k][r], LEAST * bins.re(i, k, k)));
                }
            }
        }
    }

    private static int[] edges(BinObservations bins) {
        int[] edges = new int[bins.size() / BINS + 1];
        int count = 0;
        for (int i = 0; i + BINS <= bins.size(); ) {
            edges[count++] = i;
            i = Math.max(i + BINS, bins.firstAtOrAbove(bins.hz(i) * Math.pow(2, 1.0 / PER_OCTAVE)));
        }
        if (count == 0) {
            return new int[0];
        }
        edges[count] = bins.size();
        return Arrays.copyOf(edges, count + 1);
    }

    private static double[] ranges(BinObservations bins, int[] edges, int k, int other, boolean known) {
        double[] variance = new double[edges.length - 1];
        for (int r = 0; r < variance.length; r++) {
            variance[r] = variance(bins, edges[r], edges[r + 1], k, other, known);
        }
        return variance;
    }

    private static double variance(BinObservations bins, int from, int to, int k, int other, boolean known) {
        double[] power = new double[2 * TERMS - 1];
        double[] re = new double[TERMS];
        double[] im = new double[TERMS];
        double own = 0;
        double noise = 0;
        for (int i = from; i < to; i++) {
            double x = (2.0 * i - from - to + 1) / (to - from);
            own += bins.re(i, k, k);
            noise += bins.noise(i, other) / (to - from);
            power[0] += bins.re(i, other, other);
            power[1] += x * bins.re(i, other, other);
            power[2] += x * x * bins.re(i, other, other);
            re[0] += bins.re(i, k, other);
            im[0] += bins.im(i, k, other);
            re[1] += x * bins.re(i, k, other);
            im[1] += x * bins.im(i, k, other);
        }
        double det = power[0] * power[2] - power[1] * power[1];
        if (!(det > 0)) {
            return own / (to - from);
        }
        double explained = 0;
        double gain = 0;
        for (double[] c : new double[][] {re, im}) {
            double g = (power[2] * c[0] - power[1] * c[1]) / det;
            double slope = (power[0] * c[1] - power[1] * c[0]) / det;
            explained += g * c[0] + slope * c[1];
            gain += g * g;
        }
        double left = Math.max(0, own - explained) / (to - from - TERMS);
        return known ? Math.max(LEAST_SHARE * left, left - gain * noise) : left / (1 + gain);
    }

    private static double[] smoothed(double[] values) {
        double[] out = new double[values.length];
        for (int r = 0; r < out.length; r++) {
            int from = Math.max(0, r - SMOOTHED);
            int to = Math.min(values.length, r + SMOOTHED + 1);
            out[r] = Arrays.stream(values, from, to).average().orElseThrow();
        }
        return out;
    }
}
