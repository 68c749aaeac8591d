package ohmprint.spec;

import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * Closed forms for a value y with the standard uncertainty u against limits. Source: JCGM 106:2012, clauses 7 and 8.
 */
public final class GuardBand {
    /** Rate of false answers to one side at a limit. */
    public static final double SIDE_RATE = 0.025;

    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

    private GuardBand() {}

    /**
     * Probability that the true value lies within the limits, {@code Φ((T_U − y)/u) − Φ((T_L − y)/u)}.
     *
     * @param y measured value
     * @param u its standard uncertainty, same unit; 0 for an exact value
     * @param low lower limit, negative infinity for none
     * @param high upper limit, infinity for none
     */
    public static double conformanceProbability(double y, double u, double low, double high) {
        if (u == 0) {
            return y >= low && y <= high ? 1 : 0;
        }
        double above = Double.isInfinite(low) ? 0 : NORMAL.cumulativeProbability((low - y) / u);
        double below = Double.isInfinite(high) ? 1 : NORMAL.cumulativeProbability((high - y) / u);
        return below - above;
    }
}
