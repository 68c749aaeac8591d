package ohmprint.signal;

/**
 * Generalised cross-correlation with phase transform: {@code c(n) = IDFT{Y·X*∕|Y·X*|}} over the bins of a frequency range,
 * so that the peak stays narrow whatever the spectrum of the sound.
 *
 * <p>Source: C. Knapp and G. C. Carter, IEEE Trans. ASSP-24 (1976) 320–327.
 *
 * @param at index of the highest magnitude, in steps
 * @param prominence that magnitude over the root mean square of the correlation; 0 for silence
 */
record PhaseTransform(int at, double prominence) {
    /** Highest frequency for steps of one sample, as a share of the sample rate. */
    static final double WIDE_SHARE = 0.45;

    private static final double FROM_HZ = 80;
    private static final double TO_HZ = 12_000;

    /**
     * Correlates two packed spectra and finds the peak.
     *
     * @param x spectrum of the recording that is taken as earlier
     * @param y spectrum of the other
     * @param length length of the transforms that gave them, samples
     * @param step samples per step of the correlation, a power of two: the inverse transform is shorter by it
     * @param highestShare highest frequency used, as a share of the sample rate, below 1/(2·step)
     * @param steps number of steps to search, from lag 0
     * @param sampleRate sample rate in hertz
     */
    static PhaseTransform of(
            double[] x, double[] y, int length, int step, double highestShare, int steps, double sampleRate) {
        double[] c = correlation(x, y, length, step, highestShare, sampleRate);
        double energy = 0;
        int at = 0;
        for (int i = 0; i < steps; i++) {
            energy += c[i] * c[i];
            if (Math.abs(c[i]) > Math.abs(c[at])) {
                at = i;
            }
        }
        double rms = Math.sqrt(energy / steps);
        return new PhaseTransform(at, rms > 0 ? Math.abs(c[at]) / rms : 0);
    }

    /** The correlation itself, at every lag from 0 in steps; parameters as above. */
    static double[] correlation(double[] x, double[] y, int length, int step, double highestShare, double sampleRate) {
        int size = length / step;
        int from = Math.max(1, (int) (FROM_HZ / sampleRate * length));
        int to = Math.min(size / 2 - 1, (int) (Math.min(TO_HZ, highestShare * sampleRate) / sampleRate * length));
        double[] c = new double[size];
        for (int i = from; i <= to; i++) {
            double re = y[2 * i] * x[2 * i] + y[2 * i + 1] * x[2 * i + 1];
            double im = y[2 * i + 1] * x[2 * i] - y[2 * i] * x[2 * i + 1];
            double modulus = Math.sqrt(re * re + im * im);
            if (modulus > 0) {
                c[2 * i] = re / modulus;
                c[2 * i + 1] = im / modulus;
            }
        }
        RealFourier.ofLength(size).inverse(c);
        return c;
    }
}
