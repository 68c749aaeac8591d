package ohmprint.estimate;

import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * The factor between a standard uncertainty and the half-width of its 95 % interval, {@code t_{0.975}(ν)}. Source: JCGM
 * 100:2008, G.3 and table G.2.
 */
public final class StudentFactor {
    private static final double NORMAL = 1.959963984540054;
    private static final double ONE_SIDED = 0.975;
    /** From here on the series is right to nine digits. */
    private static final double MANY = 200;
    /** Steps double the number of right digits: after one of this size twelve are right. */
    private static final double LAST_STEP = 1e-6;

    /** Factors closer to the normal one than this ratio are not told from it. */
    private static final double SAME = 1.001;

    private static final double LEAST_INVERSE = 1e-6;
    private static final double EXACT = 1e-9;
    private static final int MAX_STEPS = 100;

    private StudentFactor() {}

    /**
     * The factor for ν degrees of freedom: the expansion about the normal quantile z,
     * {@code t = z + (z³+z)/4ν + (5z⁵+16z³+3z)/96ν² + (3z⁷+19z⁵+17z³−15z)/384ν³}, which is too small, and below 200 Newton's steps
     * from there on; the distribution function is concave, so that none goes too far. Source of the expansion: Abramowitz and
     * Stegun, Handbook of Mathematical Functions, 26.7.5 (from memory).
     *
     * @param freedom ν, 1 or more; infinity for the normal distribution
     */
    public static double of(double freedom) {
        double t = series(freedom);
        if (freedom < MANY) {
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
     * The degrees of freedom behind a factor: ν with {@code t_{0.975}(ν) = factor}.
     *
     * @param factor stated half-width of a 95 % interval over the standard uncertainty
     * @return ν, 1 or more; infinity where the factor is not above the normal one by a thousandth, as one that tolerances make is
     */
    public static double freedom(double factor) {
        if (!(factor > NORMAL * SAME)) {
            return Double.POSITIVE_INFINITY;
        }
        return factor >= of(1)
                ? 1
                : 1 / new BrentSolver(EXACT).solve(MAX_STEPS, v -> of(1 / v) - factor, LEAST_INVERSE, 1);
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
