package ohmprint.circuit;

import java.util.List;
import org.apache.commons.math3.complex.Complex;

/**
 * An input about which nothing is known. Its admittance counts as part of the source: with Y_in = 0 the result is
 * {@code Z ∥ Z_in}, for which no input uncertainty remains.
 */
public record UnknownInput() implements InputImpedance {
    @Override
    public Complex admittance(double hz) {
        return Complex.ZERO;
    }

    @Override
    public boolean isKnown() {
        return false;
    }

    /** No influence: the input is part of what is measured. */
    @Override
    public List<Complex> standardEffects(double hz) {
        return List.of();
    }

    @Override
    public double lowestHz() {
        return 0;
    }

    @Override
    public double highestHz() {
        return Double.POSITIVE_INFINITY;
    }

    @Override
    public String label() {
        return "unknown";
    }
}
