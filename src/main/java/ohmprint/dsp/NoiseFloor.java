package ohmprint.dsp;

import java.util.Arrays;
import ohmprint.impedance.FrequencyBands;
import org.jspecify.annotations.Nullable;

/**
 * Power density of the background of a take, from its silent lead-in.
 *
 * <p>Estimate: the mean of K = 2 to 5 periodograms through sine tapers
 * {@code √(2/(N+1))·sin(πk(n+1)/(N+1))}, k = 1…K, which use all of a short lead-in where one window would waste its ends.
 * N + 1 is the largest power of two that the lead-in holds; what it does not cover, if more than an eighth, is covered by a
 * second such part that ends where the lead-in ends, and the mean of both is taken. K is the most that keeps the resolution,
 * {@code (K+1)/T'} for a part of T' seconds, within {@code 6/T} hertz for a lead-in of T seconds. It is smoothed over a third
 * of an octave, narrowing to a twelfth where that is still 40/T' hertz wide. One-sided, in full-scale² per hertz; the direct
 * component is removed.
 *
 * <p>A third-octave band at f is resolved when it is as wide as the resolution, f ≥ 26/T hertz: 26 Hz for 1 s, 52 Hz for
 * 0.5 s, 104 Hz for the least lead-in, 0.25 s. Below that the density is that of the lowest bins as smoothed.
 *
 * <p>Source: K. S. Riedel, A. Sidorenko, "Minimum bias multiple taper spectral estimation", IEEE Trans. Signal Processing
 * 43(1), 1995.
 */
public final class NoiseFloor {
    /** Shortest lead-in in seconds: with less, nothing below 104 Hz would be resolved. */
    public static final double LEAST_SECONDS = 0.25;

    /** One more than the number of tapers when one part is the whole lead-in. */
    private static final int WIDTHS = 6;
    /** Share of a part from which the rest of the lead-in is worth a second one. */
    private static final double WORTH = 0.125;

    private static final int LONGEST = (1 << 20) - 1;
    private static final double THIRD = Math.pow(FrequencyBands.OCTAVE_RATIO, 1.0 / 6);
    private static final double TWELFTH = Math.pow(FrequencyBands.OCTAVE_RATIO, 1.0 / 24);
    private static final int ENOUGH_BINS = 80;
    private static final double WIDEST_REACH_HZ = 15;

    private final double binHz;
    /** Running sums: power[k] is the sum of the densities of bins below k, used[k] the number of them that count. */
    private final double[] power;

    private final int[] used;

    private NoiseFloor(double[] density, boolean[] left, double binHz) {
        this.binHz = binHz;
        this.power = new double[density.length + 1];
        this.used = new int[density.length + 1];
        for (int k = 0; k < density.length; k++) {
            boolean counts = k > 0 && !left[k];
            power[k + 1] = power[k] + (counts ? density[k] : 0);
            used[k + 1] = used[k] + (counts ? 1 : 0);
        }
    }

    /**
     * The floor with everything in it, hum included.
     *
     * @param background samples of the lead-in, relative to full scale
     * @param sampleRate in hertz
     * @throws IllegalArgumentException if there are less than {@link #LEAST_SECONDS} of samples
     */
    public static NoiseFloor of(double[] background, double sampleRate) {
        return of(background, sampleRate, null);
    }

    /**
     * The floor between narrow lines: each line is subtracted, and the bins within its reach are left out.
     *
     * @param background samples of the lead-in, relative to full scale
     * @param sampleRate in hertz
     * @param lines lines found in the same samples
     * @throws IllegalArgumentException if there are less than {@link #LEAST_SECONDS} of samples
     */
    public static NoiseFloor without(HumLines lines, double[] background, double sampleRate) {
        return of(background, sampleRate, lines);
    }

    private static NoiseFloor of(double[] background, double sampleRate, @Nullable HumLines lines) {
        if (background.length < LEAST_SECONDS * sampleRate) {
            throw new IllegalArgumentException("a lead-in of " + background.length / sampleRate
                    + " s is too short for a noise floor; leave at least " + LEAST_SECONDS
                    + " s of silence before the sound, better 1 s");
        }
        double[] x = Arrays.copyOf(background, Math.min(background.length, LONGEST));
        if (lines != null) {
            lines.subtract(x, sampleRate);
        }
        removeMean(x);
        int part = Integer.highestOneBit(x.length + 1);
        int tapers = WIDTHS * part / (x.length + 1) - 1;
        int rest = x.length + 1 - part;
        int[] starts = rest > WORTH * part ? new int[] {0, rest} : new int[] {0};
        // 2(N+1) points, so that a taper is a step of k bins to each side.
        double binHz = sampleRate / (2 * part);
        double[] density = new double[part + 1];
        for (int start : starts) {
            double[] y = new double[2 * part];
            System.arraycopy(x, start, y, 1, part - 1);
            RealFourier.ofLength(y.length).forward(y);
            addTapered(y, tapers, 1 / (starts.length * tapers * part * sampleRate), density);
        }
        boolean[] left = new boolean[density.length];
        if (lines != null) {
            lines.mark(left, binHz, Math.min((tapers + 1) * sampleRate / part, WIDEST_REACH_HZ));
        }
        return new NoiseFloor(density, left, binHz);
    }

    private static void removeMean(double[] x) {
        double sum = 0;
        for (double v : x) {
            sum += v;
        }
        double mean = sum / x.length;
        for (int n = 0; n < x.length; n++) {
            x[n] -= mean;
        }
    }

    /**
     * Adds the one-sided density over the tapers. With X the spectrum of the samples, from n = 1 on, in 2(N+1) points, the k-th
     * taper gives {@code √(2/(N+1))·(X_{m−k} − X_{m+k})/2j}: the sine is a pair of exponentials, so one transform serves all.
     *
     * @param x packed spectrum of 2(N+1) points
     * @param tapers number K of tapers
     * @param scale what a squared difference counts
     * @param density what is added to
     */
    private static void addTapered(double[] x, int tapers, double scale, double[] density) {
        int half = x.length / 2;
        for (int m = 0; m <= half; m++) {
            double sum = 0;
            for (int k = 1; k <= tapers; k++) {
                double re = re(x, m - k) - re(x, m + k);
                double im = im(x, m - k) - im(x, m + k);
                sum += re * re + im * im;
            }
            density[m] += (m == 0 || m == half ? scale / 2 : scale) * sum;
        }
    }

    /** Real part of bin m; bins below 0 and beyond the half are those of a real signal. */
    private static double re(double[] x, int m) {
        int half = x.length / 2;
        int k = m < 0 ? -m : m > half ? x.length - m : m;
        return k == half ? x[1] : x[2 * k];
    }

    private static double im(double[] x, int m) {
        int half = x.length / 2;
        int k = m < 0 ? -m : m > half ? x.length - m : m;
        double im = k == 0 || k == half ? 0 : x[2 * k + 1];
        return k == m ? im : -im;
    }

    /**
     * Power density at a frequency in full-scale² per hertz.
     *
     * @param hz from 0 to half the sample rate; beyond, the value at the end
     */
    public double psd(double hz) {
        double f = Math.min(Math.max(hz, binHz), (power.length - 2) * binHz);
        boolean fine = f * (TWELFTH - 1 / TWELFTH) >= ENOUGH_BINS * binHz;
        double ratio = fine ? TWELFTH : THIRD;
        double mean = mean(f / ratio, f * ratio);
        while (Double.isNaN(mean) && ratio * binHz < f) {
            ratio *= THIRD;
            mean = mean(f / ratio, f * ratio);
        }
        return Double.isNaN(mean) ? power[power.length - 1] / Math.max(1, used[used.length - 1]) : mean;
    }

    /**
     * Standard uncertainty of {@link #psd}, relative, for a steady background of Gaussian noise: {@code 1/√(T·W)} for a lead-in of T
     * seconds and the W hertz that are smoothed over, a third or a twelfth of an octave. Source: Bendat and Piersol, Random Data,
     * 4th ed., 8.5 (from memory).
     *
     * @param hz frequency
     * @param seconds length of the lead-in
     */
    public static double relativeUncertainty(double hz, double seconds) {
        double twelfth = hz * (TWELFTH - 1 / TWELFTH);
        // ENOUGH_BINS of 1/2T hertz.
        boolean fine = 2 * seconds * twelfth >= ENOUGH_BINS;
        return 1 / Math.sqrt(Math.max(1, seconds * (fine ? twelfth : hz * (THIRD - 1 / THIRD))));
    }

    /**
     * Levels per band in dBFS: {@code 10·log₁₀} of the mean power density between the band edges times their distance,
     * relative to full scale 1, so that a full-scale sine in the band would be −3.01.
     *
     * @param bands bands whose midbands lie below half the sample rate
     * @return one level per band
     */
    public double[] levelsDbfs(FrequencyBands bands) {
        double[] levels = new double[bands.size()];
        for (int i = 0; i < levels.length; i++) {
            double low = bands.lowerEdge(i);
            double high = bands.upperEdge(i);
            double mean = mean(low, high);
            levels[i] = 10 * Math.log10((Double.isNaN(mean) ? psd(bands.midband(i)) : mean) * (high - low));
        }
        return levels;
    }

    /** Mean density between two frequencies over the bins that count; NaN when less than three tenths of them do. */
    private double mean(double low, double high) {
        double from = Math.max(0.5, low / binHz);
        double to = Math.min(power.length - 1.5, high / binHz);
        double bins = at(used, to) - at(used, from);
        boolean enough = bins >= 0.3 * (to - from) && bins >= 1;
        return enough ? (at(power, to) - at(power, from)) / bins : Double.NaN;
    }

    /** The running sum up to a position in bins, bin k reaching from k − ½ to k + ½. */
    private static double at(double[] sums, double position) {
        int k = (int) Math.floor(position + 0.5);
        double part = position + 0.5 - k;
        return sums[k] + part * (sums[Math.min(k + 1, sums.length - 1)] - sums[k]);
    }

    private static double at(int[] sums, double position) {
        int k = (int) Math.floor(position + 0.5);
        double part = position + 0.5 - k;
        return sums[k] + part * (sums[Math.min(k + 1, sums.length - 1)] - sums[k]);
    }
}
