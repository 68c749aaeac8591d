package ohmprint.signal;

/**
 * Lag between two recordings from their spectra: generalised cross-correlation with phase transform, circular.
 *
 * <p>Only bins up to a quarter of the sample rate are used and the inverse transform is half as long, so the lag comes
 * in steps of {@value #STEP} samples; a fit to the phases finds the rest. Source: C. Knapp and G. C. Carter, IEEE Trans. ASSP-24 (1976)
 * 320–327.
 *
 * @param frames lag of the second recording behind the first, modulo the period, samples, 0 ≤ frames < period
 * @param period period of the correlation, samples
 * @param prominence height of the peak over the root mean square of the correlation; chance gives 4 to 6
 */
public record CircularLag(long frames, long period, double prominence) {
    /**
     * Prominence from which a stimulus counts as found in a take. A reversed sweep, which shares its spectrum with the
     * right one, was seen to reach 10; the right one through a room 170 and more.
     */
    public static final double STIMULUS_FOUND = 20;

    private static final double FROM_HZ = 80;
    private static final double TO_HZ = 12_000;
    private static final double HIGHEST_SHARE = 0.24;
    /** Samples per step of the correlation. */
    public static final int STEP = 2;

    /**
     * Correlates two packed spectra.
     *
     * @param first spectrum of the recording that is taken as earlier
     * @param second spectrum of the other
     * @param length length of the transforms that gave them, samples
     * @param sampleRate sample rate in hertz
     */
    public static CircularLag of(double[] first, double[] second, int length, double sampleRate) {
        int size = length / STEP;
        int from = Math.max(1, (int) (FROM_HZ / sampleRate * length));
        int to = (int) (Math.min(TO_HZ, HIGHEST_SHARE * sampleRate) / sampleRate * length);
        double[] c = new double[size];
        for (int i = from; i <= to; i++) {
            double re = second[2 * i] * first[2 * i] + second[2 * i + 1] * first[2 * i + 1];
            double im = second[2 * i + 1] * first[2 * i] - second[2 * i] * first[2 * i + 1];
            double modulus = Math.sqrt(re * re + im * im);
            if (modulus > 0) {
                c[2 * i] = re / modulus;
                c[2 * i + 1] = im / modulus;
            }
        }
        RealFourier.ofLength(size).inverse(c);
        double energy = 0;
        int at = 0;
        for (int i = 0; i < size; i++) {
            energy += c[i] * c[i];
            if (Math.abs(c[i]) > Math.abs(c[at])) {
                at = i;
            }
        }
        double rms = Math.sqrt(energy / size);
        return new CircularLag((long) STEP * at, length, rms > 0 ? Math.abs(c[at]) / rms : 0);
    }

    /** The lag nearest to an expectation, in samples, among those one period apart. */
    public long nearest(long expected) {
        return frames + Math.round((expected - frames) / (double) period) * period;
    }
}
