package ohmprint.signal;

/**
 * Lag between two recordings from their spectra: {@link PhaseTransform}, circular.
 *
 * <p>Only bins up to a quarter of the sample rate are used and the inverse transform is half as long, so the lag comes in
 * steps of {@value #STEP} samples; a fit to the phases finds the rest.
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
        PhaseTransform found = PhaseTransform.of(first, second, length, STEP, HIGHEST_SHARE, length / STEP, sampleRate);
        return new CircularLag((long) STEP * found.at(), length, found.prominence());
    }

    /** The lag nearest to an expectation, in samples, among those one period apart. */
    public long nearest(long expected) {
        return frames + Math.round((expected - frames) / (double) period) * period;
    }
}
