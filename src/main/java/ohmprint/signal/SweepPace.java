package ohmprint.signal;

import java.util.OptionalDouble;

/**
 * How fast an exponential sweep moves: the time L in which its frequency grows by the factor e.
 *
 * <p>Divided by the sweep, a take holds the n-th harmonic of the chain {@code L·ln n} before its impulse response. Source:
 * A. Farina, "Simultaneous measurement of impulse response and distortion with a swept-sine technique", AES 108th
 * Convention, 2000.
 */
public final class SweepPace {
    private static final double[] PLACES = {0.3, 0.45, 0.6, 0.75, 0.88};
    private static final int CROSSINGS = 8;
    private static final double AGREE = 0.03;

    private SweepPace() {}

    /**
     * L in seconds by the zero crossings at five places.
     *
     * @param samples a stimulus
     * @param sampleRate in hertz
     * @return empty for what is no rising exponential sweep
     */
    public static OptionalDouble secondsPerNeper(double[] samples, double sampleRate) {
        double[] at = new double[PLACES.length];
        double[] logHz = new double[PLACES.length];
        for (int p = 0; p < PLACES.length; p++) {
            double first = crossing(samples, (int) (PLACES[p] * samples.length));
            double last = first;
            for (int c = 0; c < CROSSINGS; c++) {
                last = crossing(samples, (int) last + 1);
            }
            at[p] = (first + last) / 2;
            logHz[p] = Math.log(CROSSINGS / (2 * (last - first)));
        }
        int end = PLACES.length - 1;
        double overall = (at[end] - at[0]) / (logHz[end] - logHz[0]);
        for (int p = 0; p < end; p++) {
            double here = (at[p + 1] - at[p]) / (logHz[p + 1] - logHz[p]);
            if (!(Math.abs(here / overall - 1) < AGREE)) {
                return OptionalDouble.empty();
            }
        }
        return overall > 0 ? OptionalDouble.of(overall / sampleRate) : OptionalDouble.empty();
    }

    /** The next change of sign at or after a sample, interpolated; NaN at the end. */
    private static double crossing(double[] x, int from) {
        for (int i = Math.max(0, from); i + 1 < x.length; i++) {
            if (x[i] < 0 != x[i + 1] < 0) {
                return i + x[i] / (x[i] - x[i + 1]);
            }
        }
        return Double.NaN;
    }
}
