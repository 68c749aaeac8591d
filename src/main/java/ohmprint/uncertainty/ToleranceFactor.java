package ohmprint.uncertainty;

import java.util.Arrays;
import org.apache.commons.math3.special.Erf;

/**
 * The factor between a standard uncertainty and the half-width of its 95 % interval where tolerances dominate.
 *
 * <p>A part within a tolerance of ± a is as likely anywhere in it, with {@code u = a/√3}. The sum of n such parts and a normal
 * one of standard deviation σ has the distribution function
 *
 * <pre>
 * F(x) = σⁿ/(2ⁿ·Πa_i)·Σ (Πε_i)·Φ_n((x + Σ ε_i·a_i)/σ)       over all ε_i = ±1
 * Φ_n(s) = (s·Φ_(n−1)(s) + Φ_(n−2)(s))/n,   Φ_0 = Φ,   Φ_(−1) = φ
 * </pre>
 *
 * with Φ_n the normal distribution function integrated n times. The three largest parts are taken so; smaller ones, and those
 * that change nothing, are counted as normal. The factor lies between 1.645, one tolerance alone, and 1.960. Source: JCGM
 * 101:2008, 6.4.2 (rectangular distributions) and 5.3; Φ_n after M. Abramowitz and I. A. Stegun, Handbook of Mathematical
 * Functions, 7.2.5 (from memory).
 */
public final class ToleranceFactor {
    private static final double COVERAGE = 0.95;
    /** Factor of one rectangle alone, {@code 0.95·√3}: no sum has a smaller one. */
    public static final double LEAST = COVERAGE * Math.sqrt(3);

    private static final int MOST = 3;
    /** Share of the variance below which a part is counted as normal. */
    private static final double LEAST_SHARE = 0.03;
    /** Sum of the squared shares below which the factor is the normal one to one per cent. */
    private static final double NO_MATTER = 0.12;
    /** Normal part where there is none, as a share of u. */
    private static final double TRACE = 0.01;

    /** By how much the factor is below the normal one, over the sum of the squared shares: never by more (found numerically). */
    private static final double FARTHEST_BELOW = 0.33;
    /** Steps double the number of right digits: after one of this size seven are right. */
    private static final double CONVERGED = 1e-4;

    private static final int MAX_STEPS = 30;

    private final double[] halfWidths;
    private final double sigma;

    private ToleranceFactor(double[] halfWidths, double sigma) {
        this.halfWidths = halfWidths;
        this.sigma = sigma;
    }

    /**
     * The factor.
     *
     * @param rectangular standard uncertainties of the parts within tolerances; only the first {@code count} are looked at
     * @param count how many there are
     * @param combined standard uncertainty of everything together, in the same unit, positive
     */
    public static double of(double[] rectangular, int count, double combined) {
        double matter = 0;
        for (int i = 0; i < count; i++) {
            double share = rectangular[i] * rectangular[i] / (combined * combined);
            matter += share * share;
        }
        if (!(matter > NO_MATTER)) {
            return CoverageFactor.NORMAL;
        }
        double[] parts = Arrays.stream(rectangular, 0, count)
                .map(u -> Math.abs(u) / combined)
                .sorted()
                .toArray();
        double[] halfWidths = new double[MOST];
        double rest = 1;
        int kept = 0;
        for (int i = count - 1; i >= 0 && kept < MOST && parts[i] * parts[i] > LEAST_SHARE; i--, kept++) {
            halfWidths[kept] = Math.sqrt(3) * parts[i];
            rest -= parts[i] * parts[i];
        }
        return new ToleranceFactor(Arrays.copyOf(halfWidths, kept), Math.max(TRACE, Math.sqrt(Math.max(0, rest))))
                .quantile(CoverageFactor.NORMAL - FARTHEST_BELOW * matter);
    }

    /** Where {@code 2F(x) − 1} is 0.95. It is concave, so that Newton's steps from below never go too far. */
    private double quantile(double below) {
        double x = below;
        for (int step = 0; step < MAX_STEPS; step++) {
            double[] at = at(x);
            double move = (COVERAGE - at[0]) / at[1];
            x += move;
            if (Math.abs(move) < CONVERGED) {
                break;
            }
        }
        return Math.min(CoverageFactor.NORMAL, Math.max(LEAST, x));
    }

    /** {@code 2F(x) − 1} and its derivative. */
    private double[] at(double x) {
        int n = halfWidths.length;
        double sum = 0;
        double slope = 0;
        for (int signs = 0; signs < 1 << n; signs++) {
            double place = x;
            double sign = 1;
            for (int i = 0; i < n; i++) {
                boolean plus = (signs >> i & 1) == 0;
                place += plus ? halfWidths[i] : -halfWidths[i];
                sign = plus ? sign : -sign;
            }
            double s = place / sigma;
            double before = Math.exp(-s * s / 2) / Math.sqrt(2 * Math.PI);
            double now = Erf.erfc(-s / Math.sqrt(2)) / 2;
            for (int k = 1; k <= n; k++) {
                double next = (s * now + before) / k;
                before = now;
                now = next;
            }
            sum += sign * now;
            slope += sign * before;
        }
        double scale = 1;
        for (double a : halfWidths) {
            scale *= sigma / (2 * a);
        }
        return new double[] {2 * scale * sum - 1, 2 * scale * slope / sigma};
    }
}
