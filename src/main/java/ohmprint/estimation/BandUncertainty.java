package ohmprint.estimation;

import java.util.EnumMap;
import java.util.Map;
import ohmprint.estimation.BandSolver.BandFit;
import ohmprint.estimation.Nuisance.PosteriorCauses;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.PolarDistribution;
import ohmprint.uncertainty.CoverageFactor;
import ohmprint.uncertainty.ToleranceFactor;

/**
 * From the fit of one band to what is stated about it: covariance, budget and 95 % expanded uncertainties.
 *
 * <p>These are those of {@link CombinedUncertainty} along |Z| and along the phase.
 *
 * <p>Modulus and phase are propagated to first order, which holds while (R, X) stays away from the origin. Nearer than
 * {@value #FAR_ENOUGH} standard uncertainties they are drawn instead ({@link PolarDistribution}), from a normal distribution
 * whose standard uncertainties are larger by {@code k/1.96}; the expanded uncertainty is then the half-width of the interval
 * around the estimate that holds 95 % of the draws. Source: JCGM 101:2008, 5.11.4 b) and 7.7. The seed is the frequency in millihertz, so that a
 * session gives the same figures each time.
 */
final class BandUncertainty {
    /** |Z| over its larger principal standard uncertainty up to which first order is not trusted. */
    static final double FAR_ENOUGH = 5;

    /** Their 95 % points lie within about one per cent of the true ones. */
    private static final int DRAWS = 20_000;

    /** Power ratio of signal and noise below which a band has no value: 6 dB. */
    static final double LEAST_SNR = Math.pow(10, 0.6);

    private final PosteriorCauses causes;
    private final double driftFreedom;

    /**
     * Statements about the bands of one curve.
     *
     * @param causes what the sensitivities of its fits refer to
     * @param driftFreedom degrees of freedom of what is believed about the gains
     */
    BandUncertainty(PosteriorCauses causes, double driftFreedom) {
        this.causes = causes;
        this.driftFreedom = driftFreedom;
    }

    /**
     * What is stated.
     *
     * @param fit the fit, with sensitivities to the causes
     * @param scale observed over stated variance of the noise
     * @param freedom degrees of freedom of that
     */
    BandValue of(BandFit fit, double scale, double freedom) {
        double snr = fit.signalToNoise() / scale;
        double snrDb = 10 * Math.log10(snr);
        double r = fit.resistanceOhm();
        double x = fit.reactanceOhm();
        double size = Math.hypot(r, x);
        double noise = Math.sqrt(fit.noiseVariance() * scale);
        if (!(snr > LEAST_SNR)) {
            return BandValue.rejected(fit.frequencyHz(), snr > 0 ? snrDb : Double.NaN);
        }
        PlaneCovariance all = PlaneCovariance.circular(noise);
        for (int n = 0; n < causes.size(); n++) {
            all = all.plus(PlaneCovariance.ofCause(fit.sensitivityRe()[n], fit.sensitivityIm()[n]));
        }
        CombinedUncertainty modulus = along(fit, r / size, x / size, noise, freedom);
        CombinedUncertainty phase = along(fit, -x / (size * size), r / (size * size), noise / size, freedom);
        double factor = modulus.factor();
        double phaseFactor = phase.factor();
        double expanded = factor * modulus.combined();
        BandValue value = BandValue.complex(
                fit.frequencyHz(), r, x, all, expanded, phaseFactor * phase.combined(), snrDb, modulus.budget());
        if (size < FAR_ENOUGH * all.largestUncertainty()) {
            value = drawn(value, all, Math.max(factor, phaseFactor));
        }
        return value.magnitudeU95Ohm() < size ? value : BandValue.rejected(fit.frequencyHz(), snrDb);
    }

    private static BandValue drawn(BandValue value, PlaneCovariance all, double factor) {
        double widened = factor / CoverageFactor.NORMAL;
        PolarDistribution draws = PolarDistribution.of(
                value.resistanceOhm(),
                value.reactanceOhm(),
                all.times(widened * widened),
                Math.round(1000 * value.frequencyHz()),
                DRAWS);
        return value.withDrawn(draws.modulusU95Ohm(), draws.phaseU95Rad());
    }

    /** Along (a, b), the derivative by R and X. */
    private CombinedUncertainty along(BandFit fit, double a, double b, double noise, double freedom) {
        CombinedUncertainty sum = new CombinedUncertainty(noise, freedom, driftFreedom, causes.size());
        for (int n = 0; n < causes.size(); n++) {
            sum.add(
                    a * fit.sensitivityRe()[n] + b * fit.sensitivityIm()[n],
                    causes.get(n).origin(),
                    causes.get(n).isTolerance());
        }
        return sum;
    }

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
    static final class CombinedUncertainty {
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
            return BandBudget.of(origin -> Math.sqrt((origin == CauseOrigin.NOISE ? noise * noise : 0) + of(origin)));
        }

        private double of(CauseOrigin origin) {
            return variance.getOrDefault(origin, 0.0);
        }
    }
}
