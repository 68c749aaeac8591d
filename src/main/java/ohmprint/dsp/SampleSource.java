package ohmprint.dsp;

import java.io.Closeable;
import java.io.IOException;

/**
 * A stream of multi-channel samples, read once from front to back.
 *
 * <p>Samples are relative to full scale: an integer sample {@code v} of n bits is {@code v / 2^(n−1)}, exactly.
 */
public interface SampleSource extends Closeable {
    /** Number of channels, at least 1. */
    int channels();

    /** Samples per second and channel, in hertz. */
    double sampleRate();

    /** Number of frames (samples per channel) in the whole stream. */
    long frames();

    /**
     * Reads the next frames of all channels.
     *
     * @param into one array per channel; each is filled from {@code offset}
     * @param offset first index to fill
     * @param count most frames to read
     * @return frames read; fewer than {@code count} only at the end of the stream, 0 when it is exhausted
     * @throws IOException if the file cannot be read further
     */
    int read(double[][] into, int offset, int count) throws IOException;

    /**
     * Skips frames.
     *
     * @param count frames to skip, not negative
     * @return frames skipped; fewer only at the end of the stream
     * @throws IOException if the file cannot be read further
     */
    long skip(long count) throws IOException;

    @Override
    void close() throws IOException;
}
