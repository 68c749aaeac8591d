package ohmprint.circuit;

import java.util.ArrayList;
import java.util.List;
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
        implements InputImpedance {
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
    public Complex admittance(double hz) {
        return bare.admittance(hz).add(new Complex(0, susceptance(hz)));
    }

    @Override
    public boolean isKnown() {
        return bare.isKnown();
    }

    /** The influences of the bare input, then that of the cable. */
    @Override
    public List<Complex> standardEffects(double hz) {
        List<Complex> effects = new ArrayList<>(bare.standardEffects(hz));
        effects.add(new Complex(0, susceptance(hz) * Quantity.rectangular(tolerancePercent)));
        return List.copyOf(effects);
    }

    @Override
    public List<String> influences() {
        List<String> names = new ArrayList<>(bare.influences());
        names.add("capacitance of the cable");
        return List.copyOf(names);
    }

    @Override
    public boolean isTolerance(int influence) {
        return influence >= bare.influences().size() || bare.isTolerance(influence);
    }

    @Override
    public double lowestHz() {
        return bare.lowestHz();
    }

    @Override
    public double highestHz() {
        return bare.highestHz();
    }

    @Override
    public String label() {
        return bare.label() + " ∥ cable " + Quantity.text(metres) + " m, " + Quantity.text(capacitancePf()) + " pF";
    }

    private double susceptance(double hz) {
        return 2 * Math.PI * hz * capacitancePf() * 1e-12;
    }
}
