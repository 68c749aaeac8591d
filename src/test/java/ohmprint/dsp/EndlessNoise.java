package ohmprint.dsp;

/**
 * A long recording without memory: white uniform noise computed from the position, so that any stretch of it can be
 * written down as an array too.
 */
final class EndlessNoise implements SampleSource {
    private static final double RATE = 48_000;

    private final long seed;
    private final long frames;
    private final int channels;
    private long at;

    /** Noise of a seed; channel c holds the noise of {@code seed + c}. */
    EndlessNoise(long seed, long frames, int channels) {
        this.seed = seed;
        this.frames = frames;
        this.channels = channels;
    }

    /** Sample {@code n} of the noise of a seed, also before and after any recording; within ±1. */
    static double sample(long seed, long n) {
        long z = seed * 0x9E3779B97F4A7C15L + n * 0xD1B54A32D192ED03L;
        z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
        z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
        return (z ^ (z >>> 31)) * 0x1p-63;
    }

    /** The stretch {@code [from, from + length)}. */
    static double[] stretch(long seed, long from, int length) {
        double[] x = new double[length];
        for (int i = 0; i < length; i++) {
            x[i] = sample(seed, from + i);
        }
        return x;
    }

    @Override
    public int channels() {
        return channels;
    }

    @Override
    public double sampleRate() {
        return RATE;
    }

    @Override
    public long frames() {
        return frames;
    }

    @Override
    public int read(double[][] into, int offset, int count) {
        int n = (int) Math.min(count, frames - at);
        for (int c = 0; c < channels; c++) {
            for (int i = 0; i < n; i++) {
                into[c][offset + i] = sample(seed + c, at + i);
            }
        }
        at += n;
        return n;
    }

    @Override
    public long skip(long count) {
        long n = Math.min(count, frames - at);
        at += n;
        return n;
    }

    @Override
    public void close() {}
}
