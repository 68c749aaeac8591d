package ohmprint.impedance;

import ohmprint.uncertainty.CoverageFactor;

/**
 * A number that follows from a curve, with its uncertainty, or bounds where the curve gives no more than that. The unit is
 * told where it is used.
 *
 * @param value the number; NaN where only bounds follow, or nothing
 * @param u95 95 % expanded uncertainty of the value; NaN without one
 * @param low lower bound; NaN unless there are bounds instead of a value
 * @param high upper bound, may be infinite; NaN likewise
 * @param hz the frequency that it belongs to, in hertz; NaN when it belongs to none
 */
public record PredictedValue(double value, double u95, double low, double high, double hz) {
    /** A value with its standard uncertainty (k = 1), or with one of which 1.96 are the 95 % one where few observations tell it. */
    public static PredictedValue of(double value, double standardUncertainty, double hz) {
        return new PredictedValue(value, CoverageFactor.NORMAL * standardUncertainty, Double.NaN, Double.NaN, hz);
    }

    /** Bounds, no value. */
    public static PredictedValue between(double low, double high, double hz) {
        return new PredictedValue(Double.NaN, Double.NaN, low, high, hz);
    }

    /** Nothing. */
    public static PredictedValue none(double hz) {
        return between(Double.NaN, Double.NaN, hz);
    }

    /** True when there is a value. */
    public boolean isValue() {
        return !Double.isNaN(value);
    }

    /** True when there are bounds instead of a value. */
    public boolean isBounded() {
        return !isValue() && !Double.isNaN(low);
    }

    /** The least that it can be, uncertainty left aside: the value or the lower bound; NaN for nothing. */
    public double least() {
        return isValue() ? value : low;
    }

    /** The most that it can be, uncertainty left aside: the value or the upper bound; NaN for nothing. */
    public double most() {
        return isValue() ? value : high;
    }

    /** The same multiplied by a positive factor. */
    public PredictedValue times(double factor) {
        return new PredictedValue(value * factor, u95 * factor, low * factor, high * factor, hz);
    }

    /** Its opposite. */
    public PredictedValue negated() {
        return new PredictedValue(-value, u95, -high, -low, hz);
    }

    /** The same with an exact number added. */
    public PredictedValue plus(double exact) {
        return new PredictedValue(value + exact, u95, low + exact, high + exact, hz);
    }
}
