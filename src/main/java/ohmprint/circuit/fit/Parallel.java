package ohmprint.circuit.fit;

import java.util.List;
import org.apache.commons.math3.complex.Complex;

/**
 * Two parts side by side: admittances add, and {@code dZ = Z²·dZ₁/Z₁²}.
 *
 * @param one the first
 * @param other the second
 */
record Parallel(Part one, Part other) implements Part {
    @Override
    public List<Value> values() {
        return Value.joined(List.of(one, other));
    }

    @Override
    public Complex impedance(double omega, double[] p, int at, Complex[] slopes) {
        int middle = at + one.size();
        Complex a = one.impedance(omega, p, at, slopes);
        Complex b = other.impedance(omega, p, middle, slopes);
        Complex z = a.multiply(b).divide(a.add(b));
        scale(slopes, at, middle, z.divide(a));
        scale(slopes, middle, middle + other.size(), z.divide(b));
        return z;
    }

    private static void scale(Complex[] slopes, int from, int to, Complex share) {
        for (int i = from; i < to; i++) {
            slopes[i] = slopes[i].multiply(share).multiply(share);
        }
    }
}
