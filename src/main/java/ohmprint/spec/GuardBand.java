package ohmprint.spec;

import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * Closed forms for a value y with the standard uncertainty u against limits. Source: JCGM 106:2012, clauses 7 and 8.
 */
public final class GuardBand {
    /** Rate of false answers to one side at a limit. */
    public static final double SIDE_RATE = 0.025;

    /** Factor of the 95 % expanded uncertainty of a normal distribution. */
    public static final double NORMAL_FACTOR = 1.959963984540054;

    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);
    private static final double MOST_FREEDOM = 1e6;
    /** Coverage factors up to this are those of more than a hundred thousand degrees of freedom. */
    private static final double LEAST_STUDENT_FACTOR = 1.95999;

    private static final int HALVINGS = 30;

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

    /** The factor of u that a normal variable exceeds with the given probability, 0 to 0.5. */
    public static double normalFactor(double tail) {
        return NORMAL.inverseCumulativeProbability(1 - tail);
    }

    /** The same for Student's t. */
    public static double factor(double tail, double freedom) {
        return freedom >= MOST_FREEDOM ? normalFactor(tail) : student(freedom).inverseCumulativeProbability(1 - tail);
    }

    /** Without a source of random numbers, whose making costs more than all else here. */
    private static TDistribution student(double freedom) {
        return new TDistribution(null, freedom);
    }

    /**
     * Degrees of freedom for which Student's t has the given 95 % coverage factor; infinite for that of the normal
     * distribution and below, 1 at least.
     */
    static double freedom(double coverageFactor) {
        if (!(coverageFactor > LEAST_STUDENT_FACTOR)) {
            return Double.POSITIVE_INFINITY;
        }
        double low = 0;
        double high = Math.log(MOST_FREEDOM);
        for (int i = 0; i < HALVINGS; i++) {
            double middle = (low + high) / 2;
            double beyond = student(Math.exp(middle)).cumulativeProbability(-coverageFactor);
            if (beyond > SIDE_RATE) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return Math.exp(low);
    }
}
