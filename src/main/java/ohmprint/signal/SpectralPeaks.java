package ohmprint.signal;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Narrow peaks of a power density that stand {@value #LEAST_DB} dB or more above the noise around them.
 *
 * <p>The noise under a peak is the geometric mean of the medians on either side of its main lobe, over 6 to 32 resolution
 * widths. Distances are counted in resolution widths, 1/T for a window of T seconds, whatever the spacing of the bins.
 */
final class SpectralPeaks {
    private static final double LEAST_DB = 10;
    private static final double BELOW_LEAST = Math.pow(10, -LEAST_DB / 10);
    private static final double FAINTEST = 1e-30;
    private static final int LOBE = 4;
    private static final int FIRST = 5;
    private static final int NEAR = 6;
    private static final int FAR = 32;
    private static final int SIDE_LOBES = 40;

    private final double[] p;
    private final double binHz;
    /** Bins per resolution width. */
    private final double finer;

    private final int lobe;
    private final int first;
    private final int near;
    private final int far;

    /**
     * Peaks of a density.
     *
     * @param density one-sided, full-scale² per hertz, bin k at {@code k·binHz}
     * @param binHz bin spacing, hertz
     * @param resolutionHz resolution width, hertz; at least the bin spacing
     */
    SpectralPeaks(double[] density, double binHz, double resolutionHz) {
        this.p = density;
        this.binHz = binHz;
        this.finer = resolutionHz / binHz;
        this.lobe = bins(LOBE);
        this.first = bins(FIRST);
        this.near = bins(NEAR);
        this.far = bins(FAR);
    }

    private int bins(int widths) {
        return (int) Math.ceil(widths * finer - 1e-9);
    }

    /** All of them in order of frequency; none is a harmonic yet. */
    List<HumLines.Line> all() {
        List<HumLines.Line> peaks = new ArrayList<>();
        for (int k = first; k < p.length - lobe; k++) {
            if (!isHighest(k) || isAmongMany(k)) {
                continue;
            }
            double floor = floor(k);
            double prominence = 10 * Math.log10(p[k] / floor);
            if (prominence >= LEAST_DB && !isSideLobe(k)) {
                peaks.add(line(k, floor, prominence));
            }
        }
        return peaks;
    }

    private HumLines.Line line(int k, double floor, double prominence) {
        double left = Math.log(p[k - 1]);
        double centre = Math.log(p[k]);
        double right = Math.log(p[k + 1]);
        double shift = 0.5 * (right - left) / (2 * centre - left - right);
        double power = 0;
        for (int i = k - lobe; i <= k + lobe; i++) {
            power += p[i] - floor / Math.log(2);
        }
        double level = 10 * Math.log10(Math.max(power, p[k]) * binHz);
        return new HumLines.Line((k + shift) * binHz, level, prominence, 0);
    }

    private boolean isHighest(int k) {
        for (int i = k - lobe; i <= k + lobe; i++) {
            if (i != k && p[i] >= p[k]) {
                return false;
            }
        }
        return true;
    }

    /**
     * Whether a stronger bin nearby explains this one as a side lobe of a Hann window: −31 dB at 2.5 resolution widths,
     * −18 dB/octave.
     */
    private boolean isSideLobe(int k) {
        int reach = bins(SIDE_LOBES);
        for (int i = Math.max(first - 1, k - reach); i <= Math.min(p.length - 1, k + reach); i++) {
            double widths = Math.abs(i - k) / finer;
            if (widths > 1 && p[k] < p[i] * Math.pow(10, -2.8) * Math.pow(2.5 / widths, 6)) {
                return true;
            }
        }
        return false;
    }

    /**
     * Whether half of the bins on either side are within {@value #LEAST_DB} dB of bin k, so that both medians are and it
     * cannot stand out; most bins are sorted out by this, which counts instead of sorting.
     */
    private boolean isAmongMany(int k) {
        double least = p[k] * BELOW_LEAST;
        return isMostlyAbove(lowest(k), k - lobe, least) && isMostlyAbove(k + lobe + 1, highest(k), least);
    }

    private boolean isMostlyAbove(int from, int to, double least) {
        int above = 0;
        for (int i = from; i < to; i++) {
            above += p[i] > least ? 1 : 0;
        }
        return 2 * above > to - from;
    }

    private int lowest(int k) {
        return Math.max(1, k - lobe - reach(k));
    }

    private int highest(int k) {
        return Math.min(p.length - 1, k + lobe + 1 + reach(k));
    }

    private int reach(int k) {
        return Math.min(far, Math.max(near, k / 2));
    }

    /** Geometric mean of the medians on both sides, so that a slope does not lift one of them. */
    private double floor(int k) {
        double below = median(lowest(k), k - lobe);
        double above = median(k + lobe + 1, highest(k));
        if (k - lobe - 1 < near) {
            return above;
        }
        return p.length - k - lobe - 2 < near ? below : Math.sqrt(below * above);
    }

    private double median(int from, int to) {
        if (to <= from) {
            return FAINTEST;
        }
        double[] part = Arrays.copyOfRange(p, from, to);
        Arrays.sort(part);
        return Math.max(part[part.length / 2], FAINTEST);
    }
}
