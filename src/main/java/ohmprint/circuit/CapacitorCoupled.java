package ohmprint.circuit;

import org.apache.commons.math3.complex.Complex;

/**
 * An active output behind coupling capacitors: {@code Z = R + 1/(jωC)}.
 *
 * @param ohm output resistance R in ohms, 0 or more
 * @param farads coupling capacitance C in farads, positive; of two in series, one per leg, their series value
 */
public record CapacitorCoupled(double ohm, double farads) implements SourceModel {
    /** Checks the ranges. */
    public CapacitorCoupled {
        Quantity.notNegative("output resistance", ohm, "Ω");
        Quantity.positive("coupling capacitance", farads, "F");
    }

    @Override
    public Complex impedance(double hz) {
        return new Complex(ohm, -1 / (2 * Math.PI * hz * farads));
    }
}
