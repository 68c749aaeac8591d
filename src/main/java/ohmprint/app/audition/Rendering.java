package ohmprint.app.audition;

import java.io.Closeable;
import java.io.IOException;
import java.util.Arrays;
import ohmprint.signal.FittedFilter;
import ohmprint.signal.OverlapAdd;
import ohmprint.signal.SampleSource;

/**
 * A take and what the filter makes of it, block by block and sample for sample at the same place.
 *
 * <p>The filter is early by its lead, so its output is taken that much later; the take waits for it.
 */
final class Rendering implements Closeable {
    private final SampleSource take;
    private final OverlapAdd filter;
    private final int channel;
    private final int block;
    private final int lead;
    private final double[][] read;
    private final double[][] held;
    private final double[][] plain;
    private final double[][] rendered;
    private long left;

    /**
     * Begins at the first frame.
     *
     * @param take the take, closed with this
     * @param filter the filter
     * @param channel the only channel to filter, counted from 0, or negative for all
     */
    Rendering(SampleSource take, FittedFilter filter, int channel) {
        this.take = take;
        double[] taps = filter.taps();
        block = taps.length;
        lead = filter.lead();
        int channels = take.channels();
        this.filter = new OverlapAdd(channels, taps);
        this.channel = channel;
        read = new double[channels][block];
        held = new double[channels][lead + block];
        plain = new double[channels][block];
        rendered = new double[channels][block];
        left = take.frames() + lead;
    }

    /** Gets the next frames of both. */
    interface Listener {
        /**
         * Hears some frames.
         *
         * @param plain the take, one array per channel
         * @param rendered what the filter makes of it
         * @param offset first index of both
         * @param count frames
         */
        void frames(double[][] plain, double[][] rendered, int offset, int count) throws IOException;
    }

    /**
     * Passes on the next block.
     *
     * @return false when the take is at its end
     */
    boolean next(Listener listener) throws IOException {
        if (left <= 0) {
            return false;
        }
        boolean first = left == take.frames() + lead;
        int got = take.read(read, 0, block);
        for (int c = 0; c < read.length; c++) {
            Arrays.fill(read[c], got, block, 0);
            System.arraycopy(held[c], block, held[c], 0, lead);
            System.arraycopy(read[c], 0, held[c], lead, block);
            System.arraycopy(held[c], 0, plain[c], 0, block);
            if (channel < 0 || channel == c) {
                System.arraycopy(read[c], 0, rendered[c], 0, block);
                filter.pass(c, rendered[c]);
            } else {
                System.arraycopy(plain[c], 0, rendered[c], 0, block);
            }
        }
        int now = (int) Math.min(left, block);
        int skip = first ? lead : 0;
        left -= now;
        if (now > skip) {
            listener.frames(plain, rendered, skip, now - skip);
        }
        return true;
    }

    /** Frames that are still to come, with the lead. */
    long left() {
        return left;
    }

    @Override
    public void close() throws IOException {
        take.close();
    }
}
