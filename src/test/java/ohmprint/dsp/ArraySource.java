package ohmprint.dsp;

import java.io.IOException;
import java.io.UncheckedIOException;

/** A source over arrays, one per channel, of equal length. */
public class ArraySource implements SampleSource {
    private final double fs;
    private final double[][] channels;
    private int at;

    public ArraySource(double fs, double[]... channels) {
        this.fs = fs;
        this.channels = channels;
    }

    /** What a scan shows of a take of one channel. */
    static TakeIndicators scan(double fs, double[] x) {
        try {
            return TakeAnalyzer.of(new ArraySource(fs, x), 0, -1).indicators();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
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
