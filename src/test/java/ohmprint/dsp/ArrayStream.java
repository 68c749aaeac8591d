package ohmprint.dsp;

/** Samples of an array for the dispatcher. */
final class ArrayStream extends SampleStream {
    private final double[] x;
    private int at;

    ArrayStream(double sampleRate, int block, double[] x) {
        super(sampleRate, block);
        this.x = x;
    }

    @Override
    int next(float[] into, int count) {
        int n = Math.min(count, x.length - at);
        for (int i = 0; i < n; i++) {
            into[i] = (float) x[at++];
        }
        return n;
    }
}
