package ohmprint.impedance;

import java.util.SplittableRandom;

/**
 * Modulus and phase of an uncertain impedance by random draws, for points too close to the origin for first-order
 * propagation (|Z| below about twice its uncertainty).
 *
 * <p>(R, X) is drawn from the bivariate normal distribution with the given covariance, by the lower triangular root
 * {@code L·Lᵀ} of the covariance; each draw gives {@code √(R²+X²)} and {@code atan2(X, R)}. The phase is taken within ±π
 * of the phase of the estimate, so that a source near ±180° does not fall apart into two halves. Source: JCGM 101:2008,
 * 6.4.8 and 7; JCGM 102:2011, 9.2.
 *
 * @param modulusOhm distribution of |Z| in ohms
 * @param phaseRad distribution of the phase in radians
 * @param modulusU95Ohm half-width of the interval around the estimate that holds 95 % of the moduli, ohms
 * @param phaseU95Rad half-width of the interval around the estimate that holds 95 % of the phases, radians, at most π
 */
public record PolarDistribution(
        DrawSummary modulusOhm, DrawSummary phaseRad, double modulusU95Ohm, double phaseU95Rad) {
    /** Excess of a squared correlation above one that rounding may cause. */
    private static final double ROUNDING = 1e-9;

    /**
     * Draws the distribution of modulus and phase.
     *
     * @param r resistance in ohms
     * @param x reactance in ohms
     * @param covariance covariance of (R, X) in Ω²
     * @param seed seed of the random numbers: the same seed gives the same result
     * @param draws number of draws, at least {@link DrawSummary#FEWEST_DRAWS}
     * @throws IllegalArgumentException if the covariance is none (negative variance, correlation beyond ±1)
     */
    public static PolarDistribution of(double r, double x, PlaneCovariance covariance, long seed, int draws) {
        double varR = covariance.varR();
        double varX = covariance.varX();
        double cov = covariance.covRX();
        if (!(varR >= 0) || !(varX >= 0) || !(cov * cov <= varR * varX * (1 + ROUNDING))) {
            throw new IllegalArgumentException("var R = " + varR + " Ω², var X = " + varX + " Ω², cov = " + cov
                    + " Ω² is no covariance; variances are positive and the correlation lies within ±1");
        }
        double rootR = Math.sqrt(varR);
        double cross = rootR == 0 ? 0 : cov / rootR;
        double rootX = Math.sqrt(Math.max(0, varX - cross * cross));

        double centre = Math.atan2(x, r);
        SplittableRandom random = new SplittableRandom(seed);
        double[] modulus = new double[draws];
        double[] phase = new double[draws];
        for (int i = 0; i < draws; i++) {
            double first = random.nextGaussian();
            double drawnR = r + rootR * first;
            double drawnX = x + cross * first + rootX * random.nextGaussian();
            modulus[i] = Math.hypot(drawnR, drawnX);
            phase[i] = centre + Math.IEEEremainder(Math.atan2(drawnX, drawnR) - centre, 2 * Math.PI);
        }
        return new PolarDistribution(
                DrawSummary.of(modulus),
                DrawSummary.of(phase),
                DrawSummary.halfWidth(modulus, Math.hypot(r, x)),
                DrawSummary.halfWidth(phase, centre));
    }
}
