package ohmprint.dsp;

/** Window functions. */
public final class Windows {
    private Windows() {}

    /**
     * Hann window for spectral averaging, periodic: {@code w_i = ½ − ½·cos(2πi/n)}, i = 0 … n−1.
     *
     * @param n length, at least 1
     */
    public static double[] hann(int n) {
        double[] w = new double[n];
        for (int i = 0; i < n; i++) {
            w[i] = 0.5 - 0.5 * Math.cos(2 * Math.PI * i / n);
        }
        return w;
    }

    /**
     * Half a Hann window, falling from 1 to 0: {@code ½ + ½·cos(π(i+½)/n)}, i = 0 … n−1. Read backwards it is a fade-in.
     *
     * @param n length, at least 0
     */
    public static double[] fadeOut(int n) {
        double[] w = new double[n];
        for (int i = 0; i < n; i++) {
            w[i] = 0.5 + 0.5 * Math.cos(Math.PI * (i + 0.5) / n);
        }
        return w;
    }
}
