package ohmprint.uncertainty;

import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * The factor k between a standard uncertainty u and the half-width k·u of an interval. Source: JCGM 100:2008, G.3 and table G.2.
 */
public final class CoverageFactor {
    /** k of a 95 % interval of the normal distribution, its 97.5 % point. */
    public static final double NORMAL = 1.959963984540054;

    private static final double ONE_SIDED = 0.975;
    /** From here on the series is right to nine digits. */
    private static final double MANY = 200;
    /** Steps double the number of right digits: after one of this size twelve are right. */
    private static final double LAST_STEP = 1e-6;

    /** Factors closer to the normal one than this ratio are not told from it. */
    private static final double SAME = 1.001;

    /** Degrees of freedom from which Student's t is the normal distribution. */
    private static final double MOST_FREEDOM = 1e6;

    private static final double LEAST_INVERSE = 1e-6;
    private static final double EXACT = 1e-9;
    private static final int MAX_STEPS = 100;

    private CoverageFactor() {}

    /**
     * k of a 95 % interval of Student's t for ν degrees of freedom, {@code t_{0.975}(ν)}: the expansion about the normal quantile z,
     * {@code t = z + (z³+z)/4ν + (5z⁵+16z³+3z)/96ν² + (3z⁷+19z⁵+17z³−15z)/384ν³}, which is too small, and below 200 Newton's steps
     * from there on; the distribution function is concave, so that none goes too far. Source of the expansion: Abramowitz and
     * Stegun, Handbook of Mathematical Functions, 26.7.5 (from memory).
     *
     * @param freedom ν, 1 or more; infinity for the normal distribution
     */
    public static double student(double freedom) {
        double t = series(freedom);
        if (freedom < MANY) {
            // Without a source of random numbers, whose making costs more than all else here.
            TDistribution student = new TDistribution(null, freedom);
            double step;
            do {
                step = (ONE_SIDED - student.cumulativeProbability(t)) / student.density(t);
                t += step;
            } while (step > LAST_STEP * t);
        }
        return t;
    }

    /**
     * The degrees of freedom behind k of a 95 % interval: ν with {@code t_{0.975}(ν) = k}.
     *
     * @param factor stated half-width of a 95 % interval over the standard uncertainty
     * @return ν, 1 or more; infinity where k is not above the normal one by a thousandth, as one that tolerances make is
     */
    public static double freedom(double factor) {
        if (!(factor > NORMAL * SAME)) {
            return Double.POSITIVE_INFINITY;
        }
        return factor >= student(1)
                ? 1
                : 1 / new BrentSolver(EXACT).solve(MAX_STEPS, v -> student(1 / v) - factor, LEAST_INVERSE, 1);
    }

    /** The k that a normal variable exceeds to one side with the given probability, 0 to 0.5. */
    public static double oneSided(double tail) {
        return new NormalDistribution(null, 0, 1).inverseCumulativeProbability(1 - tail);
    }

    /** The same for Student's t with ν degrees of freedom; infinity for the normal distribution. */
    public static double oneSided(double tail, double freedom) {
        return freedom >= MOST_FREEDOM
                ? oneSided(tail)
                : new TDistribution(null, freedom).inverseCumulativeProbability(1 - tail);
    }

    private static double series(double freedom) {
        double z = NORMAL;
        double z2 = z * z;
        double first = (z2 + 1) * z / 4;
        double second = ((5 * z2 + 16) * z2 + 3) * z / 96;
        double third = (((3 * z2 + 19) * z2 + 17) * z2 - 15) * z / 384;
        return z + (first + (second + third / freedom) / freedom) / freedom;
    }
}
