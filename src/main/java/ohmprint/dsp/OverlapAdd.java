package ohmprint.dsp;

import java.util.Arrays;

/**
 * The channels of a stream passed through one finite impulse response: {@code y_n = Σ_k h_k·x_(n−k)}.
 *
 * <p>Blocks as long as the response are convolved by a transform of twice that length, and the end of each is added to the
 * beginning of the next (overlap-add). Memory does not depend on the length of the stream. Not for use by several threads
 * at once.
 */
public final class OverlapAdd {
    private final RealFourier fourier;
    private final double[] response;
    private final double[] work;
    private final double[][] overlap;

    /**
     * A stream that begins with silence.
     *
     * @param channels number of channels
     * @param taps the response h; its length is a power of two, 4 or more
     * @throws IllegalArgumentException if the length is another one
     */
    public OverlapAdd(int channels, double[] taps) {
        RealFourier.ofLength(taps.length);
        fourier = RealFourier.ofLength(2 * taps.length);
        response = Arrays.copyOf(taps, 2 * taps.length);
        fourier.forward(response);
        work = new double[2 * taps.length];
        overlap = new double[channels][taps.length];
    }

    /** Samples per block: as many as the response has. */
    public int block() {
        return response.length / 2;
    }

    /**
     * Passes one block of one channel in place.
     *
     * @param channel the channel, counted from 0
     * @param samples {@link #block()} samples; at the end of the stream filled up with zeros
     */
    public void pass(int channel, double[] samples) {
        double[] kept = overlap[channel];
        System.arraycopy(samples, 0, work, 0, kept.length);
        Arrays.fill(work, kept.length, work.length, 0);
        fourier.forward(work);
        multiply(work, response);
        fourier.inverse(work);
        for (int i = 0; i < kept.length; i++) {
            samples[i] = work[i] + kept[i];
        }
        System.arraycopy(work, kept.length, kept, 0, kept.length);
    }

    /** Multiplies one packed spectrum by another, in place. */
    private static void multiply(double[] into, double[] by) {
        into[0] *= by[0];
        into[1] *= by[1];
        for (int i = 2; i < into.length; i += 2) {
            double re = into[i] * by[i] - into[i + 1] * by[i + 1];
            into[i + 1] = into[i] * by[i + 1] + into[i + 1] * by[i];
            into[i] = re;
        }
    }
}
