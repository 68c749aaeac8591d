package ohmprint.signal;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;

/**
 * Steady narrow lines in the background of a take: mains hum with its harmonics, and whistles.
 *
 * <p>From samples: the power density, over 2 s at a time with half overlapping, through a four-term Blackman–Harris window, whose side lobes lie 92 dB down, so that a
 * strong line does not pretend to be many. A line is a bin above all others within its main lobe and at least 17 dB above
 * the median of its neighbours (20 dB in the lowest 24 bins, where noise slopes steeply); noise alone does that in fewer
 * than one lead-in of fifty. The frequency
 * comes from a parabola through the logarithms of three bins, the level from the power of the main lobe less that of the
 * noise under it.
 *
 * <p>Mains: the fundamental within 50 ± 0.5 Hz or 60 ± 0.5 Hz that gathers the most prominence over its first 40 harmonics.
 * It is reported when one line of it stands 14 dB out or three stand 10 dB out, and then harmonics count from 10 dB.
 * Lines closer than four bins (4/T hertz with T seconds, at most 2) are not told apart.
 */
public final class HumLines {
    /** Shortest lead-in in which mains harmonics stay apart: eight bins to 50 Hz. */
    public static final double LEAST_SECONDS = 0.2;

    private static final double LONGEST_TRANSFORM_SECONDS = 2;
    private static final int LOBE = 4;
    private static final int FIRST_BIN = 5;
    private static final int FEW_BINS = 6;
    private static final double LINE_DB = 17;
    private static final double LOW_LINE_DB = 20;
    private static final int LOW_BINS = 24;
    private static final double HARMONIC_DB = 10;
    private static final double BELOW_HARMONIC = Math.pow(10, -HARMONIC_DB / 10);
    private static final double FAINTEST = 1e-30;
    private static final double[] BLACKMAN_HARRIS = {0.35875, -0.48829, 0.14128, -0.01168};

    private final List<Line> lines;
    private final OptionalDouble mainsHz;

    private HumLines(List<Line> lines, OptionalDouble mainsHz) {
        this.lines = List.copyOf(lines);
        this.mainsHz = mainsHz;
    }

    /**
     * A narrow line.
     *
     * @param hz frequency in hertz
     * @param levelDbfs mean square of the line, {@code 10·log₁₀} relative to full scale 1; a full-scale sine is −3.01
     * @param prominenceDb power density at its peak over the median of the neighbouring bins
     * @param harmonic its order as a harmonic of the mains, 1 for the fundamental; 0 when it is none
     */
    public record Line(double hz, double levelDbfs, double prominenceDb, int harmonic) {}

    /**
     * Finds the lines in samples that hold background only.
     *
     * @param background samples relative to full scale
     * @param sampleRate in hertz
     * @throws IllegalArgumentException if there are less than {@link #LEAST_SECONDS} of samples
     */
    public static HumLines find(double[] background, double sampleRate) {
        if (background.length < LEAST_SECONDS * sampleRate) {
            throw new IllegalArgumentException(
                    "a lead-in of " + background.length / sampleRate + " s is too short to find hum; leave at least "
                            + LEAST_SECONDS + " s of silence before the sound");
        }
        int size = RealFourier.evenSmooth(Math.min(background.length, (int) (LONGEST_TRANSFORM_SECONDS * sampleRate)));
        double[] density = new double[size / 2 + 1];
        int count = 1 + (background.length - size) / (size / 2);
        for (int s = 0; s < count; s++) {
            addDensity(background, s * (size / 2), size, sampleRate, density);
        }
        double scale = 1.0 / count;
        return inSpectrum(Arrays.stream(density).map(p -> p * scale).toArray(), sampleRate / size);
    }

    /**
     * Finds the lines in a power density.
     *
     * @param density one-sided power density in full-scale² per hertz, bin k at {@code k·binHz}, through a window whose
     *     main lobe is at most four bins to each side (Hann, Hamming, Blackman, Blackman–Harris)
     * @param binHz bin spacing in hertz
     */
    public static HumLines inSpectrum(double[] density, double binHz) {
        List<Line> peaks = peaks(density, binHz);
        MainsComb comb = MainsComb.fit(peaks, binHz);
        List<Line> lines = new ArrayList<>();
        for (Line p : peaks) {
            int order = comb.order(p.hz());
            double least = p.hz() < LOW_BINS * binHz ? LOW_LINE_DB : LINE_DB;
            if (p.prominenceDb() >= least || order > 0) {
                lines.add(new Line(p.hz(), p.levelDbfs(), p.prominenceDb(), order));
            }
        }
        return new HumLines(lines, comb.fundamentalHz());
    }

    /** The lines in order of frequency. */
    public List<Line> lines() {
        return lines;
    }

    /** The mains frequency in hertz, if hum was found. */
    public OptionalDouble mainsHz() {
        return mainsHz;
    }

    /**
     * Marks the bins within a distance of a line.
     *
     * @param marks receives true for bin k at {@code k·binHz}
     * @param binHz bin spacing in hertz
     * @param distanceHz distance in hertz
     */
    void mark(boolean[] marks, double binHz, double distanceHz) {
        for (Line line : lines) {
            int from = (int) Math.max(0, Math.ceil((line.hz() - distanceHz) / binHz));
            int to = (int) Math.min(marks.length - 1, Math.floor((line.hz() + distanceHz) / binHz));
            for (int k = from; k <= to; k++) {
                marks[k] = true;
            }
        }
    }

    /** Whether a frequency lies within a distance, both in hertz, of a line. */
    public boolean covers(double hz, double distanceHz) {
        return lines.stream().anyMatch(l -> Math.abs(l.hz() - hz) <= distanceHz);
    }

    private static List<Line> peaks(double[] p, double binHz) {
        List<Line> peaks = new ArrayList<>();
        for (int k = FIRST_BIN; k < p.length - LOBE; k++) {
            if (!isHighest(p, k)) {
                continue;
            }
            if (isAmongMany(p, k)) {
                continue;
            }
            double floor = floor(p, k);
            double prominence = 10 * Math.log10(p[k] / floor);
            if (!(prominence >= HARMONIC_DB) || isSideLobe(p, k)) {
                continue;
            }
            double left = Math.log(p[k - 1]);
            double centre = Math.log(p[k]);
            double right = Math.log(p[k + 1]);
            double shift = 0.5 * (right - left) / (2 * centre - left - right);
            double power = 0;
            for (int i = k - LOBE; i <= k + LOBE; i++) {
                power += p[i] - floor / Math.log(2);
            }
            double level = 10 * Math.log10(Math.max(power, p[k]) * binHz);
            peaks.add(new Line((k + shift) * binHz, level, prominence, 0));
        }
        return peaks;
    }

    private static boolean isHighest(double[] p, int k) {
        for (int i = k - LOBE; i <= k + LOBE; i++) {
            if (i != k && p[i] >= p[k]) {
                return false;
            }
        }
        return true;
    }

    /** Whether a stronger bin nearby explains this one as a side lobe of a Hann window: −31 dB at 2.5 bins, −18 dB/octave. */
    private static boolean isSideLobe(double[] p, int k) {
        for (int i = Math.max(FIRST_BIN - 1, k - 40); i <= Math.min(p.length - 1, k + 40); i++) {
            int d = Math.abs(i - k);
            if (d > 1 && p[k] < p[i] * Math.pow(10, -2.8) * Math.pow(2.5 / d, 6)) {
                return true;
            }
        }
        return false;
    }

    /**
     * Whether half of the bins on either side are within {@value #HARMONIC_DB} dB of bin k, so that both medians are and it
     * cannot stand out; most bins are sorted out by this, which counts instead of sorting.
     */
    private static boolean isAmongMany(double[] p, int k) {
        double least = p[k] * BELOW_HARMONIC;
        return isMostlyAbove(p, Math.max(1, k - LOBE - reach(k)), k - LOBE, least)
                && isMostlyAbove(p, k + LOBE + 1, Math.min(p.length - 1, k + LOBE + 1 + reach(k)), least);
    }

    private static boolean isMostlyAbove(double[] p, int from, int to, double least) {
        int above = 0;
        for (int i = from; i < to; i++) {
            above += p[i] > least ? 1 : 0;
        }
        return 2 * above > to - from;
    }

    private static int reach(int k) {
        return Math.min(32, Math.max(6, k / 2));
    }

    /** Geometric mean of the medians on both sides, so that a slope does not lift one of them. */
    private static double floor(double[] p, int k) {
        double below = median(p, Math.max(1, k - LOBE - reach(k)), k - LOBE);
        double above = median(p, k + LOBE + 1, Math.min(p.length - 1, k + LOBE + 1 + reach(k)));
        if (k - LOBE - 1 < FEW_BINS) {
            return above;
        }
        return p.length - k - LOBE - 2 < FEW_BINS ? below : Math.sqrt(below * above);
    }

    private static double median(double[] p, int from, int to) {
        if (to <= from) {
            return FAINTEST;
        }
        double[] part = Arrays.copyOfRange(p, from, to);
        Arrays.sort(part);
        return Math.max(part[part.length / 2], FAINTEST);
    }

    private static void addDensity(double[] x, int from, int size, double sampleRate, double[] density) {
        double mean = 0;
        for (int n = 0; n < size; n++) {
            mean += x[from + n] / size;
        }
        double[] y = new double[size];
        double energy = 0;
        for (int n = 0; n < size; n++) {
            double c = Math.cos(2 * Math.PI * n / size);
            double w = BLACKMAN_HARRIS[0]
                    + BLACKMAN_HARRIS[1] * c
                    + BLACKMAN_HARRIS[2] * (2 * c * c - 1)
                    + BLACKMAN_HARRIS[3] * (4 * c * c - 3) * c;
            energy += w * w;
            y[n] = w * (x[from + n] - mean);
        }
        RealFourier.ofSmoothLength(size).forward(y);
        double scale = 2 / (energy * sampleRate);
        for (int k = 1; k < size / 2; k++) {
            density[k] += scale * (y[2 * k] * y[2 * k] + y[2 * k + 1] * y[2 * k + 1]);
        }
        density[0] += scale / 2 * y[0] * y[0];
        density[size / 2] += scale / 2 * y[1] * y[1];
    }
}
