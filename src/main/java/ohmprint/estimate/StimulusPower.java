package ohmprint.estimate;

import java.util.Arrays;

/**
 * Where a stimulus has power to divide by.
 *
 * <p>|X|² is averaged over {@value #SMOOTHING} of the frequency to either side. A bin is used when that mean is above
 * {@value #NEIGHBOUR_FLOOR} of the largest mean within {@value #REACH_OCTAVES} octave, and above {@value #MEDIAN_FLOOR}
 * of the median over the range of interest: dividing by the flanks of a sweep's band would raise the noise there beyond
 * all measure, and the gate would then spread it into the band.
 */
final class StimulusPower {
    private static final double SMOOTHING = 0.03;
    private static final double NEIGHBOUR_FLOOR = 0.03;
    private static final double MEDIAN_FLOOR = 1e-3;
    private static final double REACH_OCTAVES = 0.6;
    private static final int CELLS_PER_OCTAVE = 20;

    private final double[] local;
    /** Running sums of {@code |X|²·m∕(|X|² + εm)²}. */
    private final double[] amplified;

    /**
     * Averages a packed spectrum of length {@code n}.
     *
     * @param x spectrum of the stimulus
     * @param n length of the transform
     * @param firstBin lowest bin of interest
     * @param lastBin highest bin of interest
     * @param regularisation ε that the division by the stimulus adds, as a share of the local mean m
     */
    StimulusPower(double[] x, int n, int firstBin, int lastBin, double regularisation) {
        local = smoothed(x, n);
        amplified = amplified(x, n, local, regularisation);
        int cells = cell(n / 2 - 1) + 1;
        double[] centre = new double[cells];
        for (int c = 0; c < cells; c++) {
            centre[c] = local[Math.min(n / 2 - 1, (int) Math.round(Math.pow(2, (c + 0.5) / CELLS_PER_OCTAVE)))];
        }
        double[] part = Arrays.copyOfRange(centre, cell(Math.max(1, firstBin)), cell(lastBin) + 1);
        Arrays.sort(part);
        double floor = MEDIAN_FLOOR * part[part.length / 2];
        int reach = (int) Math.round(REACH_OCTAVES * CELLS_PER_OCTAVE);
        int i = 1;
        for (int c = 0; c < cells; c++) {
            double largest = 0;
            for (int o = Math.max(0, c - reach); o <= Math.min(cells - 1, c + reach); o++) {
                largest = Math.max(largest, centre[o]);
            }
            double least = Math.max(floor, NEIGHBOUR_FLOOR * largest);
            double end = Math.min(n / 2.0, Math.pow(2, (c + 1.0) / CELLS_PER_OCTAVE));
            for (; i < end; i++) {
                if (local[i] < least) {
                    local[i] = 0;
                }
            }
        }
    }

    /** Mean of |X|² around bin {@code i}; 0 where the stimulus has too little. */
    double at(int i) {
        return local[i];
    }

    /**
     * Noise that the division by X leaves at bin {@code i}, relative to a plain division by the local mean m:
     * {@code ⟨|X|²·m∕(|X|² + εm)²⟩} over the same bins. A sweep's is (1 + ε)⁻²; notches of noise make it larger than 1.
     */
    double noiseFactor(int i) {
        int reach = reach(i);
        int a = Math.max(1, i - reach);
        int b = Math.min(amplified.length - 1, i + reach + 1);
        return (amplified[b] - amplified[a]) / (b - a);
    }

    private static double[] amplified(double[] x, int n, double[] mean, double regularisation) {
        double[] sum = new double[n / 2 + 1];
        for (int i = 1; i < n / 2; i++) {
            double power = x[2 * i] * x[2 * i] + x[2 * i + 1] * x[2 * i + 1];
            double below = power + regularisation * mean[i];
            sum[i + 1] = sum[i] + (below > 0 ? power * mean[i] / (below * below) : 0);
        }
        return sum;
    }

    private static int reach(int bin) {
        return 2 + (int) (SMOOTHING * bin);
    }

    private static int cell(int bin) {
        return (int) Math.floor(CELLS_PER_OCTAVE * Math.log(bin) / Math.log(2));
    }

    /** Running mean of |X|². */
    private static double[] smoothed(double[] x, int n) {
        double[] sum = new double[n / 2 + 1];
        for (int i = 1; i < n / 2; i++) {
            sum[i + 1] = sum[i] + x[2 * i] * x[2 * i] + x[2 * i + 1] * x[2 * i + 1];
        }
        double[] mean = new double[n / 2 + 1];
        for (int i = 1; i < n / 2; i++) {
            int reach = reach(i);
            int a = Math.max(1, i - reach);
            int b = Math.min(n / 2, i + reach + 1);
            mean[i] = (sum[b] - sum[a]) / (b - a);
        }
        return mean;
    }
}
