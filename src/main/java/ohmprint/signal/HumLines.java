package ohmprint.signal;

import java.util.ArrayList;
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
}
