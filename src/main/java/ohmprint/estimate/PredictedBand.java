package ohmprint.estimate;

import ohmprint.curve.BandBudget;
import ohmprint.curve.PlaneCovariance;
import org.apache.commons.math3.complex.Complex;

/**
 * What is foretold for one band.
 *
 * @param frequencyHz midband in hertz
 * @param resistanceOhm expected R in ohms
 * @param reactanceOhm expected X in ohms
 * @param covariance predicted covariance of (R, X) in Ω²
 * @param budget predicted standard uncertainty of |Z| by origin, ohms
 */
public record PredictedBand(
        double frequencyHz, double resistanceOhm, double reactanceOhm, PlaneCovariance covariance, BandBudget budget) {
    /** 97.5 % point of the normal distribution: a session pools enough bins for Student's t to come this near. */
    private static final double COVERAGE = 1.959964;

    /** A band about which the takes will say nothing. */
    static PredictedBand nothing(double hz, Complex ohms) {
        double none = Double.POSITIVE_INFINITY;
        return new PredictedBand(
                hz,
                ohms.getReal(),
                ohms.getImaginary(),
                new PlaneCovariance(none, none, 0),
                new BandBudget(none, 0, 0, 0, 0));
    }

    /** |Z| in ohms. */
    public double magnitudeOhm() {
        return Math.hypot(resistanceOhm, reactanceOhm);
    }

    /** Relative 95 % expanded uncertainty of |Z| in percent: {@code 100·1.96·u/|Z|}. */
    public double u95Percent() {
        return Double.isInfinite(covariance.varR())
                ? Double.POSITIVE_INFINITY
                : u95Percent(resistanceOhm, reactanceOhm, covariance);
    }

    static double u95Percent(double r, double x, PlaneCovariance covariance) {
        return percent(covariance.modulusUncertainty(r, x), Math.hypot(r, x));
    }

    /** A standard uncertainty in ohms as a relative 95 % uncertainty in percent. */
    static double percent(double standardOhm, double ohm) {
        return 100 * COVERAGE * standardOhm / ohm;
    }

    /**
     * Factor by which the sound has to become longer for a wanted relative 95 % uncertainty: only noise falls, its variance
     * as one over the length. Infinite when the other causes alone exceed what is wanted.
     */
    double longerBy(double wantedPercent) {
        double all = u95Percent();
        double noise = percent(budget.noise(), magnitudeOhm());
        double shared = Math.max(0, all * all - noise * noise);
        double left = wantedPercent * wantedPercent - shared;
        return left > 0 ? noise * noise / left : Double.POSITIVE_INFINITY;
    }
}
