package ohmprint.signal;

import java.util.Arrays;

/**
 * Counts of sample values near the highest one, on a logarithmic scale, in a ring that the highest sample pushes along.
 *
 * <p>The bins are those of the floating-point format: 8192 an octave, so 0.006 % to 0.012 % wide. The ring holds two
 * octaves; a higher sample clears the bins it moves into.
 */
final class TopHistogram {
    /** Samples below this fraction of the highest need not be added. */
    static final float REACH = 0.86f;

    private static final int FINE_BITS = 10;
    private static final int SIZE = 1 << 14;
    private static final int PER_MARK = 16;

    private final int[] counts = new int[SIZE];
    private final long[] firsts = new long[SIZE / PER_MARK];
    private int topBin = -1;

    TopHistogram() {
        Arrays.fill(firsts, -1);
    }

    void add(float v, long frame) {
        int bin = bin(v);
        if (bin > topBin) {
            moveTo(bin);
        }
        counts[bin & (SIZE - 1)]++;
        int mark = (bin / PER_MARK) & (firsts.length - 1);
        if (firsts[mark] < 0) {
            firsts[mark] = frame;
        }
    }

    private void moveTo(int bin) {
        if (topBin < 0 || bin - topBin >= SIZE) {
            Arrays.fill(counts, 0);
            Arrays.fill(firsts, -1);
        } else {
            for (int b = topBin + 1; b <= bin; b++) {
                counts[b & (SIZE - 1)] = 0;
            }
            for (int m = topBin / PER_MARK + 1; m <= bin / PER_MARK; m++) {
                firsts[m & (firsts.length - 1)] = -1;
            }
        }
        topBin = bin;
    }

    /** How many samples lie at or above {@code (1 − depth)·top}. */
    long count(float top, double depth) {
        long n = 0;
        for (int b = bin((float) (top * (1 - depth))); b <= topBin; b++) {
            n += counts[b & (SIZE - 1)];
        }
        return n;
    }

    /** Mean of the samples at or above {@code (1 − depth)·top}. */
    double meanLevel(float top, double depth) {
        long n = 0;
        double sum = 0;
        for (int b = bin((float) (top * (1 - depth))); b <= topBin; b++) {
            int c = counts[b & (SIZE - 1)];
            n += c;
            sum += c * (double) Float.intBitsToFloat((b << FINE_BITS) | (1 << (FINE_BITS - 1)));
        }
        return n == 0 ? top : sum / n;
    }

    /** The first frame whose sample lies at or above {@code (1 − depth)·top}, to the resolution of the marks. */
    long firstFrame(float top, double depth) {
        long first = Long.MAX_VALUE;
        for (int m = bin((float) (top * (1 - depth))) / PER_MARK; m <= topBin / PER_MARK; m++) {
            long f = firsts[m & (firsts.length - 1)];
            if (f >= 0 && f < first) {
                first = f;
            }
        }
        return first;
    }

    private static int bin(float v) {
        return Float.floatToRawIntBits(v) >>> FINE_BITS;
    }
}
