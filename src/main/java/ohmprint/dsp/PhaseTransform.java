package ohmprint.dsp;

import java.io.IOException;
import java.util.Arrays;

/**
 * Generalised cross-correlation with phase transform: {@code c(n) = IDFT{Y·X*∕|Y·X*|}} over the bins of a frequency range,
 * so that the peak stays narrow whatever the spectrum of the sound.
 *
 * <p>It tells the lag of whole recordings from their spectra ({@link CircularLag}), of an excerpt in a stream ({@link
 * LagSearch}), and how likely each place of an excerpt in a recording is ({@link SoundPosition}).
 *
 * <p>Source: C. Knapp and G. C. Carter, IEEE Trans. ASSP-24 (1976) 320–327.
 */
public final class PhaseTransform {
    /** Highest frequency for steps of one sample, as a share of the sample rate. */
    private static final double WIDE_SHARE = 0.45;

    private static final double FROM_HZ = 80;
    private static final double TO_HZ = 12_000;

    private PhaseTransform() {}

    /**
     * The peak of a correlation.
     *
     * @param at index of the highest magnitude, in steps
     * @param prominence that magnitude over the root mean square of the correlation; 0 for silence
     */
    record Peak(int at, double prominence) {
        /** The peak among the first steps. */
        static Peak of(double[] c, int steps) {
            double energy = 0;
            int at = 0;
            for (int i = 0; i < steps; i++) {
                energy += c[i] * c[i];
                if (Math.abs(c[i]) > Math.abs(c[at])) {
                    at = i;
                }
            }
            double rms = Math.sqrt(energy / steps);
            return new Peak(at, rms > 0 ? Math.abs(c[at]) / rms : 0);
        }
    }

    /**
     * Correlates two packed spectra and finds the peak.
     *
     * @param x spectrum of the recording that is taken as earlier
     * @param y spectrum of the other
     * @param length length of the transforms that gave them, samples
     * @param step samples per step of the correlation, a power of two: the inverse transform is shorter by it
     * @param highestShare highest frequency used, as a share of the sample rate, below 1/(2·step)
     * @param steps number of steps to search, from lag 0
     * @param sampleRate sample rate in hertz
     */
    private static Peak peak(
            double[] x, double[] y, int length, int step, double highestShare, int steps, double sampleRate) {
        double[] c = correlation(x, y, length, step, highestShare, sampleRate);
        return Peak.of(c, steps);
    }

    /** The correlation itself, at every lag from 0 in steps; parameters as above. */
    private static double[] correlation(
            double[] x, double[] y, int length, int step, double highestShare, double sampleRate) {
        int size = length / step;
        int from = Math.max(1, (int) (FROM_HZ / sampleRate * length));
        int to = Math.min(size / 2 - 1, (int) (Math.min(TO_HZ, highestShare * sampleRate) / sampleRate * length));
        double[] c = new double[size];
        for (int i = from; i <= to; i++) {
            double re = y[2 * i] * x[2 * i] + y[2 * i + 1] * x[2 * i + 1];
            double im = y[2 * i + 1] * x[2 * i] - y[2 * i] * x[2 * i + 1];
            double modulus = Math.sqrt(re * re + im * im);
            if (modulus > 0) {
                c[2 * i] = re / modulus;
                c[2 * i + 1] = im / modulus;
            }
        }
        RealFourier.ofLength(size).inverse(c);
        return c;
    }

    /**
     * Lag between two recordings from their spectra: the phase transform, circular.
     *
     * <p>Only bins up to a quarter of the sample rate are used and the inverse transform is half as long, so the lag comes in
     * steps of {@value #STEP} samples; a fit to the phases finds the rest.
     *
     * @param frames lag of the second recording behind the first, modulo the period, samples, 0 ≤ frames < period
     * @param period period of the correlation, samples
     * @param prominence height of the peak over the root mean square of the correlation; chance gives 4 to 6
     */
    public record CircularLag(long frames, long period, double prominence) {
        /**
         * Prominence from which a stimulus counts as found in a take. A reversed sweep, which shares its spectrum with the
         * right one, was seen to reach 10; the right one through a room 170 and more.
         */
        public static final double STIMULUS_FOUND = 20;

        private static final double HIGHEST_SHARE = 0.24;
        /** Samples per step of the correlation. */
        public static final int STEP = 2;

        /**
         * Correlates two packed spectra.
         *
         * @param first spectrum of the recording that is taken as earlier
         * @param second spectrum of the other
         * @param length length of the transforms that gave them, samples
         * @param sampleRate sample rate in hertz
         */
        public static CircularLag of(double[] first, double[] second, int length, double sampleRate) {
            Peak found = peak(first, second, length, STEP, HIGHEST_SHARE, length / STEP, sampleRate);
            return new CircularLag((long) STEP * found.at(), length, found.prominence());
        }

        /** The lag nearest to an expectation, in samples, among those one period apart. */
        public long nearest(long expected) {
            return frames + Math.round((expected - frames) / (double) period) * period;
        }
    }

    /**
     * Where an excerpt of one recording lies in another: the phase transform over a
     * stream. The other recording is read in pieces; memory is bounded by {@value #MAX_TRANSFORM} samples.
     *
     * @param frames position of the excerpt's first sample in the other recording, in samples; negative when the excerpt
     *     begins before it
     * @param prominence height of the peak over the root mean square of the correlation; chance gives 4 to 6
     */
    public record LagSearch(long frames, double prominence) {
        /** Longest transform used, samples. */
        public static final int MAX_TRANSFORM = 1 << 20;

        /** Prominence from which a match is taken as real: far above the largest of some 10⁶ chance values. */
        public static final double SIGNIFICANT = 9;

        /**
         * Finds an excerpt.
         *
         * @param excerpt the samples to look for; at most {@link #MAX_TRANSFORM}/4
         * @param other the recording to look in, at its start
         * @param channel channel of it, from 0
         * @throws IOException if the recording cannot be read
         */
        public static LagSearch find(double[] excerpt, SampleSource other, int channel) throws IOException {
            int pad = excerpt.length;
            long stream = other.frames() + 2L * pad;
            int n = RealFourier.lengthFor(Math.min(stream, MAX_TRANSFORM));
            if (pad > n / 2) {
                throw new IllegalArgumentException(
                        "an excerpt of " + pad + " samples is too long for transforms of " + n);
            }
            RealFourier fft = RealFourier.ofLength(n);
            double[] x = new double[n];
            System.arraycopy(excerpt, 0, x, 0, pad);
            fft.forward(x);
            int hop = n - pad;
            double[] history = new double[n];
            double[][] chunk = new double[other.channels()][Math.min(1 << 15, n)];
            LagSearch best = new LagSearch(0, 0);
            int filled = pad;
            long start = -pad;
            boolean more = true;
            while (more) {
                while (filled < n) {
                    int got = other.read(chunk, 0, Math.min(chunk[0].length, n - filled));
                    if (got == 0) {
                        more = false;
                        break;
                    }
                    System.arraycopy(chunk[channel], 0, history, filled, got);
                    filled += got;
                }
                Arrays.fill(history, filled, n, 0);
                double[] y = history.clone();
                fft.forward(y);
                Peak found = peak(x, y, n, 1, WIDE_SHARE, Math.min(n, hop + 1), other.sampleRate());
                LagSearch here = new LagSearch(start + found.at(), found.prominence());
                if (here.prominence > best.prominence) {
                    best = here;
                }
                System.arraycopy(history, hop, history, 0, pad);
                filled = pad;
                start += hop;
            }
            return best;
        }
    }

    /**
     * Where a sound may lie in a recording: the phase-transform correlation at every lag.
     *
     * <p>The excerpt is compared at lags from minus its own length to the length of the recording, in whole samples.
     */
    public static final class SoundPosition {
        private final double[] correlation;
        private final int offset;
        private final double rms;

        private SoundPosition(double[] correlation, int offset, double rms) {
            this.correlation = correlation;
            this.offset = offset;
            this.rms = rms;
        }

        /**
         * Correlates.
         *
         * @param excerpt what is looked for
         * @param recording where it is looked for
         * @param sampleRate of both, hertz
         */
        public static SoundPosition of(double[] excerpt, double[] recording, double sampleRate) {
            int n = RealFourier.lengthFor((long) excerpt.length + recording.length);
            RealFourier fft = RealFourier.ofLength(n);
            double[] x = Arrays.copyOf(excerpt, n);
            double[] y = new double[n];
            System.arraycopy(recording, 0, y, excerpt.length, recording.length);
            fft.forward(x);
            fft.forward(y);
            double[] c = correlation(x, y, n, 1, WIDE_SHARE, sampleRate);
            int steps = excerpt.length + recording.length;
            double energy = 0;
            for (int i = 0; i < steps; i++) {
                energy += c[i] * c[i];
            }
            return new SoundPosition(Arrays.copyOf(c, steps), excerpt.length, Math.sqrt(energy / steps));
        }

        /** Frame of the recording at which the excerpt most likely begins; may be negative. */
        public int best() {
            return best(-offset, correlation.length - offset);
        }

        /** The same among the frames {@code [from, to)}; the nearest possible frame when there are none. */
        public int best(int from, int to) {
            int top = Math.min(correlation.length - 1, Math.max(0, from + offset));
            for (int i = top; i < Math.min(correlation.length, to + offset); i++) {
                top = Math.abs(correlation[i]) > Math.abs(correlation[top]) ? i : top;
            }
            return top - offset;
        }

        /** Height of the correlation at a frame over its root mean square; 0 outside and for silence. */
        public double prominence(int frame) {
            int i = frame + offset;
            return i < 0 || i >= correlation.length || !(rms > 0) ? 0 : Math.abs(correlation[i]) / rms;
        }
    }
}
