package ohmprint.signal;

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
        double[][] chunk = new double[source.channels()][CHUNK];
        int at = 0;
        while (at < all.length) {
            int n = source.read(chunk, 0, Math.min(CHUNK, all.length - at));
            if (n == 0) {
                return Arrays.copyOf(all, at);
            }
            System.arraycopy(chunk[channel], 0, all, at, n);
            at += n;
        }
        return all;
    }
}
