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
 * @param u95Ohm predicted 95 % expanded uncertainty of |Z| in ohms, as a measurement states it away from the origin
 * @param budget predicted standard uncertainty of |Z| by origin, ohms
 */
public record PredictedBand(
        double frequencyHz,
        double resistanceOhm,
        double reactanceOhm,
        PlaneCovariance covariance,
        double u95Ohm,
        BandBudget budget) {
    /** A band about which the takes will say nothing. */
    static PredictedBand nothing(double hz, Complex ohms) {
        double none = Double.POSITIVE_INFINITY;
        return new PredictedBand(
                hz,
                ohms.getReal(),
                ohms.getImaginary(),
                new PlaneCovariance(none, none, 0),
                none,
                new BandBudget(none, 0, 0, 0, 0));
    }

    /** |Z| in ohms. */
    public double magnitudeOhm() {
        return Math.hypot(resistanceOhm, reactanceOhm);
    }

    /** Relative 95 % expanded uncertainty of |Z| in percent. */
    public double u95Percent() {
        return 100 * u95Ohm / magnitudeOhm();
    }
}
