package ohmprint.impedance;

import org.apache.commons.math3.special.Gamma;

/**
 * A sum of squares that has the χ² distribution if everything is as stated.
 *
 * @param value the sum
 * @param freedom its degrees of freedom and its expectation, above 0
 */
public record ChiSquare(double value, double freedom) {
    /**
     * Probability of a sum at least as large by chance, {@code Q(ν/2, χ²/2)}. Source: M. Abramowitz and I. A. Stegun, Handbook of
     * Mathematical Functions, 26.4.19 (from memory).
     */
    public double pValue() {
        return Gamma.regularizedGammaQ(freedom / 2, Math.max(0, value) / 2);
    }

    /** The sum over its expectation. */
    public double ratio() {
        return value / freedom;
    }
}
