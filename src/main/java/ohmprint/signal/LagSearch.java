package ohmprint.signal;

import java.io.IOException;

/**
 * Where an excerpt of one recording lies in another: {@link PhaseTransform} over a
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
            double[] y = history.clone();
            fft.forward(y);
            PhaseTransform found =
                    PhaseTransform.of(x, y, n, 1, PhaseTransform.WIDE_SHARE, Math.min(n, hop + 1), other.sampleRate());
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
