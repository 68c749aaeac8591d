package ohmprint.circuit;

import org.apache.commons.math3.complex.Complex;

/**
 * A voice coil's inductance with eddy-current loss: {@code Z = K·ω^n·(cos(nπ/2) + j·sin(nπ/2)) = K·(jω)^n}.
 *
 * <p>With n = 1 it is an ideal inductor of K henries, with n = 0 a resistor of K ohms. Source: W. M. Leach, "Loudspeaker
 * voice-coil inductance losses", J. Audio Eng. Soc. 50(6), 2002.
 *
 * @param coefficient K in Ω·(s/rad)^n, 0 or more
 * @param exponent n, from 0 to 1
 */
public record LossyInductor(double coefficient, double exponent) implements SourceModel {
    /** Checks the ranges. */
    public LossyInductor {
        Quantity.notNegative("inductor coefficient", coefficient, "Ω·(s/rad)^n");
        if (!(exponent >= 0 && exponent <= 1)) {
            throw new IllegalArgumentException(
                    "an inductor exponent of " + exponent + " is not possible; give 0 (resistor) to 1 (inductor)");
        }
    }

    /** An inductor without loss, in henries. */
    public static LossyInductor ofHenries(double henries) {
        return new LossyInductor(Quantity.notNegative("inductance", henries, "H"), 1);
    }

    @Override
    public Complex impedance(double hz) {
        double modulus = coefficient * Math.pow(2 * Math.PI * hz, exponent);
        double angle = exponent * Math.PI / 2;
        // The cosine of the double nearest π/2 is not 0; an ideal inductor must not gain a resistance by it.
        double real = exponent == 1 ? 0 : modulus * Math.cos(angle);
        return new Complex(real, modulus * Math.sin(angle));
    }
}
