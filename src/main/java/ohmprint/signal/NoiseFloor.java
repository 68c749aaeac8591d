package ohmprint.signal;

import java.util.Arrays;
import ohmprint.curve.FrequencyBands;
import org.jspecify.annotations.Nullable;
import org.jtransforms.fft.DoubleFFT_1D;

/**
 * Power density of the background of a take, from its silent lead-in.
 *
 * <p>Estimate: the mean of K = 5 periodograms through sine tapers
 * {@code √(2/(N+1))·sin(πk(n+1)/(N+1))}, k = 1…K, which use all of a short lead-in where one window would waste its ends.
 * Its resolution is {@code (K+1)/T} hertz for a lead-in of T seconds. It is smoothed over a third of an octave, narrowing
 * to a twelfth where that still holds 40 bins. One-sided, in full-scale² per hertz; the direct component is removed.
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

    private static final int TAPERS = 5;
    private static final int LONGEST = 1 << 20;
    private static final double THIRD = Math.pow(FrequencyBands.OCTAVE_RATIO, 1.0 / 6);
    private static final double TWELFTH = Math.pow(FrequencyBands.OCTAVE_RATIO, 1.0 / 24);
    private static final int ENOUGH_BINS = 40;
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
            LineRemoval.subtract(lines, x, sampleRate);
        }
        double mean = Arrays.stream(x).average().orElse(0);
        int size = x.length <= 1 ? 2 : Integer.highestOneBit(x.length - 1) << 1;
        double[] density = new double[size / 2 + 1];
        DoubleFFT_1D fft = new DoubleFFT_1D(size);
        for (int k = 1; k <= TAPERS; k++) {
            addTapered(x, mean, k, fft, size, density);
        }
        double scale = 2 / (TAPERS * sampleRate);
        double binHz = sampleRate / size;
        boolean[] left = new boolean[density.length];
        double reach = Math.min((TAPERS + 1) * sampleRate / x.length, WIDEST_REACH_HZ);
        for (int k = 0; k < density.length; k++) {
            density[k] *= scale;
        }
        if (lines != null) {
            lines.mark(left, binHz, reach);
        }
        density[size / 2] /= 2;
        return new NoiseFloor(density, left, binHz);
    }

    private static void addTapered(double[] x, double mean, int k, DoubleFFT_1D fft, int size, double[] density) {
        double[] y = new double[size];
        double norm = Math.sqrt(2.0 / (x.length + 1));
        for (int n = 0; n < x.length; n++) {
            y[n] = norm * Math.sin(Math.PI * k * (n + 1) / (x.length + 1)) * (x[n] - mean);
        }
        fft.realForward(y);
        density[0] += y[0] * y[0];
        density[size / 2] += y[1] * y[1];
        for (int i = 1; i < size / 2; i++) {
            density[i] += y[2 * i] * y[2 * i] + y[2 * i + 1] * y[2 * i + 1];
        }
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

    /** Level at a frequency in decibels relative to full-scale² per hertz. */
    public double psdDb(double hz) {
        return 10 * Math.log10(psd(hz));
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
