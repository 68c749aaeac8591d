package ohmprint.dsp;

import java.util.Arrays;

/**
 * Watches the background of a take between the sound's own frequencies.
 *
 * <p>What a room, a microphone and a fixed gain record never lies below the noise of the silent lead-in: sound, harmonics
 * and reverberation only add to it. A gain that is turned down by the sound takes the noise down with it, in all
 * frequencies alike. That shows above a sweep that has not got so far, and in the silence after the sound.
 *
 * <p>The power of four bands between {@value #LOWEST} and {@value #HIGHEST} of the sample rate is kept for blocks of about
 * 43 ms, each as the median of its eighths, so that a steady tone which fades counts for nothing. In a window of a quarter of a second the drop is the second smallest of the four bands' drops, in decibels
 * below the lead-in: at least three bands have fallen so far. Memory is 32 bytes per block. Not safe for use by several
 * threads.
 */
final class NoiseModulationMeter {
    private static final double LOWEST = 0.10;
    private static final double HIGHEST = 0.42;
    private static final int BANDS = 4;
    /** Parts of a band, of which the median counts: a tone that fades is in one or two of them. */
    private static final int PARTS = 8;

    private static final double BLOCK_SECONDS = 0.03;
    private static final double WINDOW_SECONDS = 0.25;
    private static final double LEAST_LEAD_IN_SECONDS = 0.2;
    private static final int MOST_BLOCKS = 1 << 16;
    /** Mean square per band below which a lead-in holds nothing but rounding, relative to full scale. */
    private static final double SILENT = 1e-15;

    private final double sampleRate;
    private final int stride;
    private final RealFourier fft;
    private final double[] window;
    private final double[] block;
    private final double[] work;
    private final int[] edges = new int[BANDS * PARTS + 1];
    private double[] power = new double[256 * BANDS];
    private int blocks;
    private int filled;
    private int skip;

    /**
     * A meter that waits for its blocks.
     *
     * @param sampleRate in hertz
     * @param stride looks at one block of so many, 1 or more: for long takes
     */
    NoiseModulationMeter(double sampleRate, int stride) {
        this.sampleRate = sampleRate;
        this.stride = stride;
        this.fft = RealFourier.ofLength(RealFourier.lengthFor((long) (BLOCK_SECONDS * sampleRate)));
        this.window = Windows.hann(fft.length());
        this.block = new double[fft.length()];
        this.work = new double[fft.length()];
        for (int b = 0; b < edges.length; b++) {
            edges[b] = (int) (fft.length() * LOWEST * Math.pow(HIGHEST / LOWEST, (double) b / (BANDS * PARTS)));
        }
    }

    /** Takes the next samples. */
    void accept(double[] samples, int from, int to) {
        for (int i = from; i < to; ) {
            int n = Math.min(block.length - filled, to - i);
            if (skip == 0) {
                System.arraycopy(samples, i, block, filled, n);
            }
            filled += n;
            i += n;
            if (filled == block.length) {
                filled = 0;
                if (skip == 0 && blocks < MOST_BLOCKS) {
                    close();
                }
                skip = (skip + 1) % stride;
            }
        }
    }

    private void close() {
        for (int i = 0; i < work.length; i++) {
            work[i] = window[i] * block[i];
        }
        fft.forward(work);
        if ((blocks + 1) * BANDS > power.length) {
            power = Arrays.copyOf(power, 2 * power.length);
        }
        for (int b = 0; b < BANDS; b++) {
            power[blocks * BANDS + b] = middle(b) * (edges[(b + 1) * PARTS] - edges[b * PARTS]);
        }
        blocks++;
    }

    /** Mean square per bin in the middle of the parts of a band. */
    private double middle(int band) {
        double[] density = new double[PARTS];
        for (int p = 0; p < PARTS; p++) {
            int from = edges[band * PARTS + p];
            int to = edges[band * PARTS + p + 1];
            for (int i = from; i < to; i++) {
                density[p] += work[2 * i] * work[2 * i] + work[2 * i + 1] * work[2 * i + 1];
            }
            density[p] /= (double) (to - from) * work.length * work.length;
        }
        Arrays.sort(density);
        return (density[PARTS / 2 - 1] + density[PARTS / 2]) / 2;
    }

    /**
     * The deepest drop of the background below the lead-in.
     *
     * @param fromFrame first frame of the background
     * @param leadInFrames frame up to which there is nothing but background
     * @return decibels, positive when the background fell; NaN when the lead-in is too short, or silent to the last bit
     */
    double dropDb(long fromFrame, long leadInFrames) {
        double seconds = (double) stride * block.length / sampleRate;
        int first = (int) Math.ceil((double) fromFrame / ((long) stride * block.length));
        int lead = (int) (leadInFrames / ((long) stride * block.length));
        int length = (int) Math.max(1, Math.round(WINDOW_SECONDS / seconds));
        if ((lead - first) * seconds < LEAST_LEAD_IN_SECONDS || blocks - lead < length) {
            return Double.NaN;
        }
        double[] floor = mean(first, lead);
        if (Arrays.stream(floor).anyMatch(p -> p < SILENT)) {
            return Double.NaN;
        }
        double deepest = Double.NEGATIVE_INFINITY;
        for (int at = lead; at + length <= blocks; at++) {
            double[] here = mean(at, at + length);
            double[] drop = new double[BANDS];
            for (int b = 0; b < BANDS; b++) {
                drop[b] = 10 * Math.log10(floor[b] / Math.max(here[b], Double.MIN_NORMAL));
            }
            Arrays.sort(drop);
            deepest = Math.max(deepest, drop[1]);
        }
        return deepest;
    }

    private double[] mean(int from, int to) {
        double[] out = new double[BANDS];
        for (int i = from; i < to; i++) {
            for (int b = 0; b < BANDS; b++) {
                out[b] += power[i * BANDS + b] / (to - from);
            }
        }
        return out;
    }
}
