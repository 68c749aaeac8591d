package ohmprint.estimate;

import ohmprint.curve.BandValue;
import ohmprint.curve.PlaneCovariance;
import ohmprint.curve.PolarDistribution;
import ohmprint.uncertainty.CoverageFactor;

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
final class BandStatement {
    /** |Z| over its larger principal standard uncertainty up to which first order is not trusted. */
    static final double FAR_ENOUGH = 5;

    /** Their 95 % points lie within about one per cent of the true ones. */
    private static final int DRAWS = 20_000;

    private static final double LEAST_SNR = Math.pow(10, 0.6);

    private final RemainingCauses causes;
    private final double driftFreedom;

    /**
     * Statements about the bands of one curve.
     *
     * @param causes what the sensitivities of its fits refer to
     * @param driftFreedom degrees of freedom of what is believed about the gains
     */
    BandStatement(RemainingCauses causes, double driftFreedom) {
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
            sum.add(a * fit.sensitivityRe()[n] + b * fit.sensitivityIm()[n], causes.origin(n), causes.isTolerance(n));
        }
        return sum;
    }
}
