package ohmprint.loopback;

import java.util.function.DoubleFunction;
import ohmprint.dsp.RealFourier;
import org.apache.commons.math3.complex.Complex;

/**
 * A frequency response applied to an endless stream, block by block, by overlap and save.
 *
 * <p>The response is sampled at {@value #TAPS} frequencies around the circle and delayed by {@value #DELAY} samples, so
 * that what its step at half the sample rate rings before the pulse is kept. It is exact at the frequencies sampled, and
 * between them as far as its pulse response fits into {@value #TAPS} samples.
 */
final class StreamFilter {
    static final int BLOCK = 4096;
    static final int DELAY = 4096;
    private static final int TAPS = 1 << 15;
    private static final int SIZE = 1 << 16;

    private final RealFourier fft = RealFourier.ofLength(SIZE);
    private final double[] history = new double[SIZE];
    private volatile double[] response;

    StreamFilter(int rate, DoubleFunction<Complex> response) {
        this.response = spectrum(rate, response);
    }

    /** The same response at the beginning of another stream. */
    StreamFilter(StreamFilter other) {
        this.response = other.response;
    }

    /** Another response from the next block on. */
    void respond(int rate, DoubleFunction<Complex> other) {
        response = spectrum(rate, other);
    }

    private double[] spectrum(int rate, DoubleFunction<Complex> wanted) {
        RealFourier fine = RealFourier.ofLength(TAPS);
        double[] taps = new double[TAPS];
        taps[0] = wanted.apply(1e-3).getReal();
        taps[1] = 0;
        for (int i = 1; i < TAPS / 2; i++) {
            double hz = (double) i * rate / TAPS;
            double turn = -2 * Math.PI * i * DELAY / TAPS;
            Complex value = wanted.apply(hz).multiply(new Complex(Math.cos(turn), Math.sin(turn)));
            taps[2 * i] = value.getReal();
            taps[2 * i + 1] = value.getImaginary();
        }
        fine.inverse(taps);
        double[] padded = java.util.Arrays.copyOf(taps, SIZE);
        fft.forward(padded);
        return padded;
    }

    /** The response to the next {@value #BLOCK} samples. */
    double[] next(double[] block) {
        System.arraycopy(history, BLOCK, history, 0, SIZE - BLOCK);
        System.arraycopy(block, 0, history, SIZE - BLOCK, BLOCK);
        double[] x = history.clone();
        double[] h = response;
        fft.forward(x);
        x[0] *= h[0];
        x[1] *= h[1];
        for (int i = 1; i < SIZE / 2; i++) {
            double re = x[2 * i] * h[2 * i] - x[2 * i + 1] * h[2 * i + 1];
            x[2 * i + 1] = x[2 * i] * h[2 * i + 1] + x[2 * i + 1] * h[2 * i];
            x[2 * i] = re;
        }
        fft.inverse(x);
        return java.util.Arrays.copyOfRange(x, SIZE - BLOCK, SIZE);
    }
}
