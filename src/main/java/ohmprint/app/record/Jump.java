package ohmprint.app.record;

import java.util.Arrays;
import ohmprint.dsp.RealFourier;
import ohmprint.dsp.Windows;

/**
 * Whether a low sound jumps within a stretch of a recording: where its parts are too low to be placed to the length of an
 * interruption, the edge that an interruption leaves is still heard far above the frequencies of the sound.
 *
 * <p>The stretch is freed of everything below {@value #TIMES} times the highest frequency that the sound has there, {@value
 * #LEAST_HZ} Hz or more. Of a jump by s about s/2 is left, for a sample or two; a jump at a random moment exceeds 0.3 of the
 * root mean square nine times in ten. What is left is compared with its own noise, whose deviation is the median of its
 * magnitude over 0.6745.
 */
enum Jump {
    /** There is an edge. */
    FOUND,
    /** There is none, and it would stand out. */
    NONE,
    /** The noise would cover an edge. */
    HIDDEN;

    private static final double TIMES = 16;
    private static final double LEAST_HZ = 2000;
    private static final double HIGHEST_SHARE = 0.35;
    private static final double ENERGY_SHARE = 0.999;
    private static final double MARGIN_SECONDS = 0.1;
    /** Gaussian noise exceeds 6 deviations once in 5e8 samples. */
    private static final double DEVIATIONS = 10;

    /** What has to stand out of the noise for silence about an edge to mean that there is none. */
    private static final double LEAST_EDGE = 0.15;

    /** Below this share of the sound an edge is rather a rattle of the loudspeaker: common practice, no source. */
    private static final double FAINTEST_EDGE = 0.005;

    /**
     * Looks for an edge.
     *
     * @param sound what was played
     * @param take one channel of what was recorded
     * @param rate of both, hertz
     * @param delayFrames by how much later the sound lies in the recording
     * @param endSeconds where the stretch ends, seconds from the beginning of the sound
     * @param reachSeconds by how much what comes before an interruption may lie elsewhere
     */
    static Jump within(
            double[] sound, double[] take, double rate, long delayFrames, double endSeconds, double reachSeconds) {
        int end = (int) Math.min(sound.length, Math.round(endSeconds * rate));
        int margin = (int) Math.round(MARGIN_SECONDS * rate);
        int beside = margin + (int) Math.round(reachSeconds * rate);
        int from = (int) Math.max(0, Math.min(take.length, delayFrames - beside));
        int to = (int) Math.max(from, Math.min(take.length, delayFrames + end + beside));
        double cut = Math.max(LEAST_HZ, TIMES * highest(Arrays.copyOf(sound, Math.max(1, end)), rate));
        if (to - from <= 2 * margin || cut > HIGHEST_SHARE * rate) {
            return HIDDEN;
        }
        double[] y = Arrays.copyOfRange(take, from, to);
        double rms = Math.sqrt(Arrays.stream(y).map(v -> v * v).sum() / y.length);
        double[] high = above(y, margin, cut / rate);
        double[] inner =
                Arrays.stream(high, margin, y.length - margin).map(Math::abs).toArray();
        double[] sorted = inner.clone();
        Arrays.sort(sorted);
        double deviation = sorted[sorted.length / 2] / 0.6745;
        double largest = sorted[sorted.length - 1];
        if (largest > DEVIATIONS * deviation && largest > FAINTEST_EDGE * rms) {
            return FOUND;
        }
        return LEAST_EDGE * rms > DEVIATIONS * deviation ? NONE : HIDDEN;
    }

    private static double highest(double[] x, double rate) {
        int n = RealFourier.lengthFor(x.length);
        double[] spectrum = new double[n];
        // The end of the stretch is no end of the sound: without a window it would count as high frequencies.
        double[] window = Windows.hann(x.length);
        Arrays.setAll(spectrum, i -> i < x.length ? x[i] * window[i] : 0);
        RealFourier.ofLength(n).forward(spectrum);
        double[] sum = new double[n / 2];
        for (int i = 1; i < n / 2; i++) {
            sum[i] = sum[i - 1] + spectrum[2 * i] * spectrum[2 * i] + spectrum[2 * i + 1] * spectrum[2 * i + 1];
        }
        int at = 0;
        while (at < sum.length - 1 && sum[at] < ENERGY_SHARE * sum[sum.length - 1]) {
            at++;
        }
        return at * rate / n;
    }

    /** What lies above a share of the sample rate; the ends fade over the margin, so that they make no edge themselves. */
    private static double[] above(double[] y, int margin, double share) {
        int n = RealFourier.lengthFor(y.length);
        RealFourier fft = RealFourier.ofLength(n);
        double[] x = Arrays.copyOf(y, n);
        for (int i = 0; i < margin; i++) {
            double fade = 0.5 - 0.5 * Math.cos(Math.PI * i / margin);
            x[i] *= fade;
            x[y.length - 1 - i] *= fade;
        }
        fft.forward(x);
        x[0] = 0;
        x[1] = 0;
        for (int i = 1; i < Math.min(n / 2.0, share * n); i++) {
            x[2 * i] = 0;
            x[2 * i + 1] = 0;
        }
        fft.inverse(x);
        return x;
    }
}
