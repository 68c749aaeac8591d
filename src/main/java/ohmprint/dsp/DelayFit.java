package ohmprint.dsp;

import java.util.Arrays;

/**
 * Residual delay between two recordings of one sound whose transfer ratio is minimum phase but for that delay.
 *
 * <p>The ratio of two loaded divider voltages, (1+Z·y_p)/(1+Z·y_k), is a quotient of positive-real functions and so
 * minimum phase: its own phase follows from its magnitude. What remains, {@code φ − φ_min = −2πf·τ}, is delay. Without
 * that step an inductive source would be taken for a delay, and removing the delay would remove the inductance.
 *
 * @param seconds delay τ of the recording behind the pivot, seconds
 * @param standardUncertainty standard uncertainty of τ in seconds: scatter of the phases, a fifth of the delay that
 *     the minimum-phase part alone would have mimicked, and two microseconds, because the magnitude beyond the band is
 *     not known
 */
public record DelayFit(double seconds, double standardUncertainty) {
    private static final double MODEL_SHARE = 0.2;
    private static final double MODEL_SECONDS = 2e-6;
    private static final int COARSE_STEPS = 600;
    private static final int REFINEMENTS = 8;

    /**
     * Fits a delay to phases on a logarithmic frequency grid.
     *
     * @param hz frequencies, uniform in ln f, ascending, at least 3
     * @param re real part of the ratio recording/pivot at each
     * @param im imaginary part at each
     * @param phaseSd standard deviation of the phase at each, radians; infinite where the band is unusable
     * @param searchSeconds largest |τ| considered, seconds
     */
    public static DelayFit of(double[] hz, double[] re, double[] im, double[] phaseSd, double searchSeconds) {
        int n = hz.length;
        double[] lnMagnitude = new double[n];
        double[] weight = new double[n];
        for (int i = 0; i < n; i++) {
            lnMagnitude[i] = Math.log(Math.hypot(re[i], im[i]));
            weight[i] = 1 / (phaseSd[i] * phaseSd[i]);
        }
        fillUnusable(lnMagnitude, weight);
        double[] own = minimumPhase(hz, lnMagnitude);
        double[] phase = new double[n];
        for (int i = 0; i < n; i++) {
            phase[i] = weight[i] > 0 ? Math.atan2(im[i], re[i]) - own[i] : 0;
        }
        double tau = search(hz, phase, weight, searchSeconds);
        double information = 0;
        double misfit = 0;
        double used = 0;
        double ownDelay = 0;
        for (int i = 0; i < n; i++) {
            double w2 = 2 * Math.PI * hz[i];
            double rest = Math.IEEEremainder(phase[i] + w2 * tau, 2 * Math.PI);
            information += weight[i] * w2 * w2;
            misfit += weight[i] * rest * rest;
            ownDelay += weight[i] * w2 * own[i];
            used += weight[i] > 0 ? 1 : 0;
        }
        double scatter = Math.sqrt(Math.max(1, misfit / Math.max(1, used - 1)) / information);
        double mimicked = MODEL_SHARE * ownDelay / information;
        return new DelayFit(tau, Math.hypot(scatter, Math.hypot(mimicked, MODEL_SECONDS)));
    }

    /** Gives unusable bands the magnitude of their nearest usable neighbour, so that the phase integral has no holes. */
    private static void fillUnusable(double[] lnMagnitude, double[] weight) {
        int[] usable = java.util.stream.IntStream.range(0, weight.length)
                .filter(i -> weight[i] > 0 && Double.isFinite(lnMagnitude[i]))
                .toArray();
        if (usable.length == 0) {
            throw new IllegalArgumentException("no band is usable for a delay estimate; the recordings share no sound");
        }
        double[] filled = lnMagnitude.clone();
        for (int i = 0; i < weight.length; i++) {
            int at = Arrays.binarySearch(usable, i);
            if (at < 0) {
                int right = -at - 1;
                boolean takeRight = right == 0 || (right < usable.length && usable[right] - i < i - usable[right - 1]);
                filled[i] = lnMagnitude[usable[takeRight ? right : right - 1]];
                weight[i] = 0;
            }
        }
        System.arraycopy(filled, 0, lnMagnitude, 0, filled.length);
    }

    private static double search(double[] hz, double[] phase, double[] weight, double range) {
        double best = 0;
        double bestScore = Double.NEGATIVE_INFINITY;
        double step = range / COARSE_STEPS;
        for (int s = -COARSE_STEPS; s <= COARSE_STEPS; s++) {
            double score = score(hz, phase, weight, s * step);
            if (score > bestScore) {
                bestScore = score;
                best = s * step;
            }
        }
        for (int r = 0; r < REFINEMENTS; r++) {
            double slope = 0;
            double information = 0;
            for (int i = 0; i < hz.length; i++) {
                double w = 2 * Math.PI * hz[i];
                slope += weight[i] * w * Math.IEEEremainder(phase[i] + w * best, 2 * Math.PI);
                information += weight[i] * w * w;
            }
            best -= slope / information;
        }
        return best;
    }

    private static double score(double[] hz, double[] phase, double[] weight, double tau) {
        double s = 0;
        for (int i = 0; i < hz.length; i++) {
            double w = 2 * Math.PI * hz[i];
            s += weight[i] * w * Math.cos(phase[i] + w * tau);
        }
        return s;
    }

    /**
     * Phase of a minimum-phase response from its magnitude.
     *
     * <p>{@code φ(f₀) = (2f₀/π)·∫₀^∞ [ln M(f) − ln M(f₀)]/(f² − f₀²) df}, evaluated on a grid that is uniform in ln f.
     * Outside the grid the magnitude is taken as constant, so the phase near the ends of the grid is an approximation.
     * Source: H. W. Bode, Network Analysis and Feedback Amplifier Design (1945), ch. XIV (recalled from memory).
     *
     * @param hz frequencies, uniform in ln f, ascending, at least 3
     * @param lnMagnitude natural logarithm of the magnitude at each
     * @return phase in radians at each
     */
    static double[] minimumPhase(double[] hz, double[] lnMagnitude) {
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
