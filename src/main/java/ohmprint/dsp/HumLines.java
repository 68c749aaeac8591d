package ohmprint.dsp;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;

/**
 * Steady narrow lines in the background of a take: mains hum with its harmonics, and whistles.
 *
 * <p>From samples: the power density, over 2 s at a time with half overlapping, through a four-term Blackman–Harris window,
 * whose side lobes lie 92 dB down, so that a strong line does not pretend to be many. Zeros fill each part up to a power of
 * two, so that bins lie 1/T hertz apart or closer, T being the duration of a part. A line is a bin above all others within
 * its main lobe and at least 17 dB above the median of its neighbours (20 dB below 24/T hertz, where noise slopes steeply);
 * noise alone does that in fewer than one lead-in of fifty. The frequency comes from a parabola through the logarithms of
 * three bins, the level from the power of the main lobe less that of the noise under it.
 *
 * <p>Mains: the fundamental within 50 ± 0.5 Hz or 60 ± 0.5 Hz that gathers the most prominence over its first 40 harmonics.
 * It is reported when one line of it stands 14 dB out or three stand 10 dB out, and then harmonics count from 10 dB.
 * Lines closer than 4/T hertz are not told apart.
 */
public final class HumLines {
    /** Shortest lead-in in which mains harmonics stay apart: eight bins to 50 Hz. */
    public static final double LEAST_SECONDS = 0.2;

    private static final double LONGEST_SECONDS = 2;
    private static final double LINE_DB = 17;
    private static final double LOW_LINE_DB = 20;
    private static final int LOW_WIDTHS = 24;
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
        int size = Math.min(background.length, (int) (LONGEST_SECONDS * sampleRate));
        int count = 1 + (background.length - size) / (size / 2);
        RealFourier fft = RealFourier.ofLength(RealFourier.lengthFor(size));
        double[] density = new double[fft.length() / 2 + 1];
        for (int s = 0; s < count; s++) {
            addDensity(fft, background, s * (size / 2), size, 2 / (sampleRate * count), density);
        }
        return inSpectrum(density, sampleRate / fft.length(), sampleRate / size);
    }

    /**
     * Finds the lines in a power density.
     *
     * @param density one-sided power density in full-scale² per hertz, bin k at {@code k·binHz}, through a window whose
     *     main lobe is at most 4/T hertz to each side (Hann, Hamming, Blackman, Blackman–Harris)
     * @param binHz bin spacing in hertz, at most 1/T
     * @param resolutionHz 1/T with the duration T of the window in seconds
     */
    public static HumLines inSpectrum(double[] density, double binHz, double resolutionHz) {
        List<Line> peaks = new SpectralPeaks(density, binHz, resolutionHz).all();
        MainsComb comb = MainsComb.fit(peaks, resolutionHz);
        List<Line> lines = new ArrayList<>();
        for (Line p : peaks) {
            int order = comb.order(p.hz());
            double least = p.hz() < LOW_WIDTHS * resolutionHz ? LOW_LINE_DB : LINE_DB;
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

    /**
     * Subtracts the lines from samples in place, as steady sines, so that they do not leak into the noise between them.
     *
     * <p>Strongest first: the complex amplitude {@code 2·Σw·x·e^(−jωn)/Σw} through a Hann window w over each half gives the true
     * frequency by the phase that the line gains from one half to the other, then the whole gives amplitude and phase.
     */
    void subtract(double[] x, double sampleRate) {
        List<Line> strongestFirst = lines.stream()
                .sorted(Comparator.comparingDouble(Line::levelDbfs).reversed())
                .toList();
        int half = x.length / 2;
        for (Line line : strongestFirst) {
            double w = 2 * Math.PI * line.hz() / sampleRate;
            double[] first = amplitude(x, 0, half, w);
            double[] second = amplitude(x, half, half, w);
            double gained = Math.atan2(
                    second[1] * first[0] - second[0] * first[1], second[0] * first[0] + second[1] * first[1]);
            w += gained / half;
            double[] whole = amplitude(x, 0, x.length, w);
            for (int n = 0; n < x.length; n++) {
                x[n] -= whole[0] * Math.cos(w * n) - whole[1] * Math.sin(w * n);
            }
        }
    }

    /** Complex amplitude of {@code Re{a·e^(jwn)}}, n counted from the start of x: real and imaginary part. */
    private static double[] amplitude(double[] x, int from, int count, double w) {
        double re = 0;
        double im = 0;
        for (int i = 0; i < count; i++) {
            double v = (1 - Math.cos(2 * Math.PI * (i + 0.5) / count)) * x[from + i];
            re += v * Math.cos(w * (from + i));
            im -= v * Math.sin(w * (from + i));
        }
        return new double[] {2 * re / count, 2 * im / count};
    }

    /** Whether a frequency lies within a distance, both in hertz, of a line. */
    public boolean covers(double hz, double distanceHz) {
        return lines.stream().anyMatch(l -> Math.abs(l.hz() - hz) <= distanceHz);
    }

    /** Adds the one-sided power density of a part of the samples, times {@code fs/2·scale}; zeros fill the transform up. */
    private static void addDensity(RealFourier fft, double[] x, int from, int size, double scale, double[] density) {
        double mean = 0;
        for (int n = 0; n < size; n++) {
            mean += x[from + n] / size;
        }
        double[] y = new double[fft.length()];
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
        fft.forward(y);
        double each = scale / energy;
        int half = y.length / 2;
        for (int k = 1; k < half; k++) {
            density[k] += each * (y[2 * k] * y[2 * k] + y[2 * k + 1] * y[2 * k + 1]);
        }
        density[0] += each / 2 * y[0] * y[0];
        density[half] += each / 2 * y[1] * y[1];
    }

    /**
     * Narrow peaks of a power density that stand {@value #LEAST_DB} dB or more above the noise around them.
     *
     * <p>The noise under a peak is the geometric mean of the medians on either side of its main lobe, over 6 to 32 resolution
     * widths. Distances are counted in resolution widths, 1/T for a window of T seconds, whatever the spacing of the bins.
     */
    private static final class SpectralPeaks {
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
        List<Line> all() {
            List<Line> peaks = new ArrayList<>();
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

        private Line line(int k, double floor, double prominence) {
            double left = Math.log(p[k - 1]);
            double centre = Math.log(p[k]);
            double right = Math.log(p[k + 1]);
            double shift = 0.5 * (right - left) / (2 * centre - left - right);
            double power = 0;
            for (int i = k - lobe; i <= k + lobe; i++) {
                power += p[i] - floor / Math.log(2);
            }
            double level = 10 * Math.log10(Math.max(power, p[k]) * binHz);
            return new Line((k + shift) * binHz, level, prominence, 0);
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

    /** The mains fundamental whose harmonics explain a set of lines best. */
    private static final class MainsComb {
        private static final double[] NOMINAL_HZ = {50, 60};
        private static final double DEVIATION_HZ = 0.5;
        private static final double STEP_HZ = 0.005;
        private static final int HARMONICS = 40;
        private static final double SURE_DB = 14;
        private static final double LEAST_SCORED_DB = 8;

        private final double fundamental;
        private final double resolutionHz;

        private MainsComb(double fundamental, double resolutionHz) {
            this.fundamental = fundamental;
            this.resolutionHz = resolutionHz;
        }

        static MainsComb fit(List<Line> peaks, double resolutionHz) {
            double best = 0;
            double bestHz = Double.NaN;
            for (double nominal : NOMINAL_HZ) {
                for (double hz = nominal - DEVIATION_HZ; hz <= nominal + DEVIATION_HZ; hz += STEP_HZ) {
                    double score = new MainsComb(hz, resolutionHz).score(peaks);
                    if (score > best * (1 + 1e-12)) {
                        best = score;
                        bestHz = hz;
                    }
                }
            }
            MainsComb comb = new MainsComb(bestHz, resolutionHz);
            return comb.isSure(peaks) ? comb.refined(peaks) : new MainsComb(Double.NaN, resolutionHz);
        }

        OptionalDouble fundamentalHz() {
            return Double.isNaN(fundamental) ? OptionalDouble.empty() : OptionalDouble.of(fundamental);
        }

        /** The order of the harmonic at a frequency, 0 when it is none. */
        int order(double hz) {
            if (Double.isNaN(fundamental)) {
                return 0;
            }
            int h = (int) Math.round(hz / fundamental);
            return h >= 1 && h <= HARMONICS && Math.abs(hz - h * fundamental) <= tolerance() ? h : 0;
        }

        /** A quarter of the resolution for the peak's own error, and what the grid leaves. */
        private double tolerance() {
            return 0.25 * resolutionHz + 0.1;
        }

        private double score(List<Line> peaks) {
            double sum = 0;
            for (Line p : peaks) {
                int h = order(p.hz());
                if (h > 0) {
                    double closeness = 1 - 0.5 * Math.abs(p.hz() - h * fundamental) / tolerance();
                    sum += (p.prominenceDb() - LEAST_SCORED_DB) * closeness / Math.sqrt(h);
                }
            }
            return sum;
        }

        private boolean isSure(List<Line> peaks) {
            long matched = peaks.stream().filter(p -> order(p.hz()) > 0).count();
            boolean strong = peaks.stream()
                    .anyMatch(p -> order(p.hz()) > 0 && order(p.hz()) <= 6 && p.prominenceDb() >= SURE_DB);
            return strong || matched >= 3;
        }

        /** Least squares over the matched harmonics: f = Σh·f_h/Σh², each weighted by its prominence. */
        private MainsComb refined(List<Line> peaks) {
            double top = 0;
            double bottom = 0;
            for (Line p : peaks) {
                int h = order(p.hz());
                if (h > 0) {
                    double weight = Math.pow(10, Math.min(p.prominenceDb(), 40) / 10);
                    top += weight * h * p.hz();
                    bottom += weight * h * h;
                }
            }
            return new MainsComb(top / bottom, resolutionHz);
        }
    }
}
