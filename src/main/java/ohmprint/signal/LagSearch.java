package ohmprint.signal;

import java.io.IOException;

/**
 * Where an excerpt of one recording lies in another: generalised cross-correlation with phase transform.
 *
 * <p>{@code c(n) = IDFT{Y·X*∕|Y·X*|}} over the bins of a frequency range, so that the peak stays one sample wide whatever
 * the spectrum of the sound. The other recording is streamed in pieces; memory is bounded by {@value #MAX_TRANSFORM}
 * samples. Source: C. Knapp and G. C. Carter, IEEE Trans. ASSP-24 (1976) 320–327.
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

    private static final double FROM_HZ = 80;
    private static final double TO_HZ = 12_000;

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
            throw new IllegalArgumentException("an excerpt of " + pad + " samples is too long for transforms of " + n);
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
            java.util.Arrays.fill(history, filled, n, 0);
            LagSearch here = peak(fft, x, history.clone(), hop, start, other.sampleRate());
            if (here.prominence > best.prominence) {
                best = here;
            }
            System.arraycopy(history, hop, history, 0, pad);
            filled = pad;
            start += hop;
        }
        return best;
    }

    private static LagSearch peak(RealFourier fft, double[] x, double[] y, int hop, long start, double sampleRate) {
        int n = fft.length();
        fft.forward(y);
        int from = Math.max(1, (int) (FROM_HZ / sampleRate * n));
        int to = Math.min(n / 2 - 1, (int) (Math.min(TO_HZ, 0.45 * sampleRate) / sampleRate * n));
        double[] c = new double[n];
        for (int i = from; i <= to; i++) {
            double re = y[2 * i] * x[2 * i] + y[2 * i + 1] * x[2 * i + 1];
            double im = y[2 * i + 1] * x[2 * i] - y[2 * i] * x[2 * i + 1];
            double size = Math.hypot(re, im);
            if (size > 0) {
                c[2 * i] = re / size;
                c[2 * i + 1] = im / size;
            }
        }
        fft.inverse(c);
        double energy = 0;
        int at = 0;
        for (int i = 0; i <= hop && i < n; i++) {
            energy += c[i] * c[i];
            if (Math.abs(c[i]) > Math.abs(c[at])) {
                at = i;
            }
        }
        double rms = Math.sqrt(energy / Math.min(n, hop + 1));
        return new LagSearch(start + at, rms > 0 ? Math.abs(c[at]) / rms : 0);
    }
}
