package ohmprint.circuit;

import org.apache.commons.math3.complex.Complex;

/** The impedance of a source as a function of frequency, from the values of its parts. */
@FunctionalInterface
public interface SourceModel {
    /**
     * Z(f) = R + jX in ohms.
     *
     * @param hz frequency in hertz, positive
     */
    Complex impedance(double hz);
}
