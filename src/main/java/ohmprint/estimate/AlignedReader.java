package ohmprint.estimate;

import java.io.Closeable;
import java.io.IOException;
import java.util.Arrays;
import ohmprint.signal.SampleSource;

/** Reads a stretch of one channel in steps; after its end come zeros. */
final class AlignedReader implements Closeable {
    private final SampleSource source;
    private final int channel;
    private double[][] frames = new double[0][0];
    private long left;

    AlignedReader(SampleSource source, int channel) {
        this.source = source;
        this.channel = channel;
        this.left = source.frames();
    }

    long frames() {
        return source.frames();
    }

    double sampleRate() {
        return source.sampleRate();
    }

    /** Restricts reading to {@code length} frames from frame {@code from}. */
    void limitTo(long from, long length) throws IOException {
        source.skip(from);
        left = length;
    }

    /** Fills {@code count} samples from {@code offset}. */
    void read(double[] into, int offset, int count) throws IOException {
        if (frames.length == 0 || frames[0].length < count) {
            frames = new double[source.channels()][count];
        }
        int done = 0;
        while (done < count && left > 0) {
            int got = source.read(frames, 0, (int) Math.min(count - done, left));
            if (got == 0) {
                left = 0;
            }
            System.arraycopy(frames[channel], 0, into, offset + done, got);
            done += got;
            left -= got;
        }
        Arrays.fill(into, offset + done, offset + count, 0);
    }

    @Override
    public void close() throws IOException {
        source.close();
    }
}
