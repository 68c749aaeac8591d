package ohmprint.circuit.fit;

import java.util.List;
import org.apache.commons.math3.complex.Complex;

/**
 * Parts one after the other: impedances add.
 *
 * @param parts the parts
 */
record Series(List<Part> parts) implements Part {
    /** Copies the list. */
    Series {
        parts = List.copyOf(parts);
    }

    @Override
    public List<Value> values() {
        return Value.joined(parts);
    }

    @Override
    public Complex impedance(double omega, double[] p, int at, Complex[] slopes) {
        Complex sum = Complex.ZERO;
        int from = at;
        for (Part part : parts) {
            sum = sum.add(part.impedance(omega, p, from, slopes));
            from += part.size();
        }
        return sum;
    }
}
