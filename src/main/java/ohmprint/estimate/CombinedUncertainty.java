package ohmprint.estimate;

import java.util.EnumMap;
import java.util.Map;
import ohmprint.curve.BandBudget;
import ohmprint.curve.CauseOrigin;
import ohmprint.uncertainty.CoverageFactor;

/**
 * Standard uncertainties along one direction of the plane of R and X, that of |Z| or that of the phase, and what they come to.
 *
 * <p>The 95 % expanded uncertainty is {@code k·u_c}. Where tolerances dominate, k is that of {@link ToleranceFactor}; where
 * parts dominate whose size rests on few observations, it is Student's t for the effective degrees of freedom
 *
 * <pre>
 * ν_eff = u_c⁴/(u_noise⁴/ν_noise + u_drift⁴/ν_drift)
 * </pre>
 *
 * and in general the product of the first and the ratio of the second to the normal factor, since only one of them is ever far
 * from 1.96. Source: JCGM 100:2008, 6.2 and annex G.4 (Welch–Satterthwaite).
 */
final class CombinedUncertainty {
    private final double noise;
    private final double noiseFreedom;
    private final double driftFreedom;
    private final Map<CauseOrigin, Double> variance = new EnumMap<>(CauseOrigin.class);
    private final double[] tolerances;
    private int count;
    private double total;

    /**
     * Noise alone, to which causes are added.
     *
     * @param noise standard uncertainty from the noise of the band
     * @param noiseFreedom degrees of freedom of that
     * @param driftFreedom degrees of freedom of what is believed about the gains
     * @param causes how many causes there may be
     */
    CombinedUncertainty(double noise, double noiseFreedom, double driftFreedom, int causes) {
        this.noise = noise;
        this.noiseFreedom = noiseFreedom;
        this.driftFreedom = driftFreedom;
        this.tolerances = new double[causes];
        total = noise * noise;
    }

    /**
     * Adds a cause.
     *
     * @param u its standard uncertainty, of either sign, in the unit of the noise
     * @param origin part of the budget
     * @param tolerance whether it is distributed as a tolerance is
     */
    void add(double u, CauseOrigin origin, boolean tolerance) {
        total += u * u;
        variance.merge(origin, u * u, Double::sum);
        if (tolerance) {
            tolerances[count++] = u;
        }
    }

    /** Combined standard uncertainty u_c. */
    double combined() {
        return Math.sqrt(total);
    }

    /** 95 % expanded uncertainty {@code k·u_c}. */
    double expanded() {
        return factor() * combined();
    }

    /** The factor k between the two. */
    double factor() {
        double drift = of(CauseOrigin.DRIFT);
        double spread = Math.pow(noise, 4) / noiseFreedom + drift * drift / driftFreedom;
        double effective = spread > 0 ? total * total / spread : Double.POSITIVE_INFINITY;
        return ToleranceFactor.of(tolerances, count, Math.sqrt(total))
                * (CoverageFactor.student(Math.max(1, effective)) / CoverageFactor.NORMAL);
    }

    /** Standard uncertainties by origin. */
    BandBudget budget() {
        return new BandBudget(
                Math.sqrt(noise * noise + of(CauseOrigin.NOISE)),
                Math.sqrt(of(CauseOrigin.DRIFT)),
                Math.sqrt(of(CauseOrigin.LOADS)),
                Math.sqrt(of(CauseOrigin.INPUT)),
                Math.sqrt(of(CauseOrigin.TIMING)));
    }

    private double of(CauseOrigin origin) {
        return variance.getOrDefault(origin, 0.0);
    }
}
