package ohmprint.dsp;

import java.io.IOException;
import java.util.Arrays;

/** Reading whole channels into memory. */
public final class Samples {
    private static final int CHUNK = 1 << 15;

    private Samples() {}

    /**
     * The next samples of one channel.
     *
     * @param source a stream at the wanted place
     * @param channel channel index, from 0
     * @param most most samples to read
     * @return the samples, full scale ±1; fewer than {@code most} at the end of the stream
     * @throws IOException if the stream cannot be read
     */
    public static double[] channel(SampleSource source, int channel, int most) throws IOException {
        double[] all = new double[(int) Math.min(most, source.frames())];
        int read = fill(all, source, channel);
        return read < all.length ? Arrays.copyOf(all, read) : all;
    }

    /**
     * Fills an array with the next samples of one channel.
     *
     * @param all receives them from its start, full scale ±1; what lies behind the end of the stream is left alone
     * @param source a stream at the wanted place
     * @param channel channel index, from 0
     * @return how many there were
     * @throws IOException if the stream cannot be read
     */
    public static int fill(double[] all, SampleSource source, int channel) throws IOException {
        double[][] chunk = new double[source.channels()][CHUNK];
        int at = 0;
        while (at < all.length) {
            int n = source.read(chunk, 0, Math.min(CHUNK, all.length - at));
            if (n == 0) {
                break;
            }
            System.arraycopy(chunk[channel], 0, all, at, n);
            at += n;
        }
        return at;
    }
}
