package ohmprint.signal;

import java.io.IOException;

/** A source over arrays, one per channel, of equal length. */
public class ArraySource implements SampleSource {
    private final double fs;
    private final double[][] channels;
    private int at;

    public ArraySource(double fs, double[]... channels) {
        this.fs = fs;
        this.channels = channels;
    }

    @Override
    public int channels() {
        return channels.length;
    }

    @Override
    public double sampleRate() {
        return fs;
    }

    @Override
    public long frames() {
        return channels[0].length;
    }

    @Override
    public int read(double[][] into, int offset, int count) throws IOException {
        int n = Math.min(count, channels[0].length - at);
        for (int c = 0; c < channels.length; c++) {
            System.arraycopy(channels[c], at, into[c], offset, n);
        }
        at += n;
        return n;
    }

    @Override
    public long skip(long count) {
        int n = (int) Math.min(count, channels[0].length - at);
        at += n;
        return n;
    }

    @Override
    public void close() {}
}
