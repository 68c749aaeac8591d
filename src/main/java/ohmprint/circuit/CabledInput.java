package ohmprint.circuit;

import org.apache.commons.math3.complex.Complex;

/**
 * An input behind a cable, which at these frequencies is a capacitance across it: {@code Y = Y_bare + jωC'·l}.
 *
 * @param bare the input without this cable
 * @param metres length l of the cable, 0 or more
 * @param pfPerMetre capacitance C' between its conductors in picofarads per metre, 0 or more
 * @param tolerancePercent tolerance of C' in percent
 */
public record CabledInput(InputImpedance bare, double metres, double pfPerMetre, double tolerancePercent)
        implements AddedInput {
    /** Checks the ranges. */
    public CabledInput {
        Quantity.notNegative("cable length", metres, "m");
        Quantity.notNegative("cable capacitance", pfPerMetre, "pF/m");
        Quantity.tolerance("cable capacitance", tolerancePercent);
    }

    /** Capacitance of the whole cable in picofarads. */
    public double capacitancePf() {
        return metres * pfPerMetre;
    }

    @Override
    public Complex added(double hz) {
        return new Complex(0, susceptance(hz));
    }

    @Override
    public Complex addedEffect(double hz) {
        return new Complex(0, susceptance(hz) * Quantity.rectangular(tolerancePercent));
    }

    @Override
    public String addedInfluence() {
        return "capacitance of the cable";
    }

    @Override
    public String label() {
        return bare.label() + " ∥ cable " + Quantity.text(metres) + " m, " + Quantity.text(capacitancePf()) + " pF";
    }

    private double susceptance(double hz) {
        return 2 * Math.PI * hz * capacitancePf() * 1e-12;
    }
}
