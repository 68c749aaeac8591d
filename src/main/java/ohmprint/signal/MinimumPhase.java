package ohmprint.signal;

/**
 * Phase of a minimum-phase response from its magnitude.
 *
 * <p>{@code φ(f₀) = (2f₀/π)·∫₀^∞ [ln M(f) − ln M(f₀)]/(f² − f₀²) df}, evaluated on a grid that is uniform in ln f.
 * Outside the grid the magnitude is taken as constant, so the phase near the ends of the grid is an approximation.
 * Source: H. W. Bode, Network Analysis and Feedback Amplifier Design (1945), ch. XIV (recalled from memory).
 */
final class MinimumPhase {
    private MinimumPhase() {}

    /**
     * Phase at every grid frequency.
     *
     * @param hz frequencies, uniform in ln f, ascending, at least 3
     * @param lnMagnitude natural logarithm of the magnitude at each
     * @return phase in radians at each
     */
    static double[] phase(double[] hz, double[] lnMagnitude) {
        int n = hz.length;
        double step = Math.log(hz[n - 1] / hz[0]) / (n - 1);
        double low = hz[0] * Math.exp(-step / 2);
        double high = hz[n - 1] * Math.exp(step / 2);
        double[] phase = new double[n];
        for (int i = 0; i < n; i++) {
            double f0 = hz[i];
            double sum = slope(lnMagnitude, i, step) / 2 * step;
            for (int j = 0; j < n; j++) {
                if (j != i) {
                    sum += (lnMagnitude[j] - lnMagnitude[i]) * hz[j] * f0 / (hz[j] * hz[j] - f0 * f0) * step;
                }
            }
            sum += (lnMagnitude[n - 1] - lnMagnitude[i]) * 0.5 * Math.log((high + f0) / (high - f0));
            sum -= (lnMagnitude[0] - lnMagnitude[i]) * 0.5 * Math.log((f0 + low) / (f0 - low));
            phase[i] = 2 / Math.PI * sum;
        }
        return phase;
    }

    private static double slope(double[] y, int i, double step) {
        int a = Math.max(0, i - 1);
        int b = Math.min(y.length - 1, i + 1);
        return (y[b] - y[a]) / ((b - a) * step);
    }
}
