package ohmprint.circuit;

import org.apache.commons.math3.complex.Complex;

/**
 * A parallel R-L-C: the electrical image of a moving system with one resonance,
 * {@code 1/Z = 1/R + 1/(jωL) + jωC}.
 *
 * @param ohm R in ohms, positive: the height of the peak
 * @param henries L in henries, positive
 * @param farads C in farads, positive
 */
public record Resonance(double ohm, double henries, double farads) implements SourceModel {
    /** Checks the ranges. */
    public Resonance {
        Quantity.resistance("motional resistance", ohm);
        Quantity.positive("motional inductance", henries, "H");
        Quantity.positive("motional capacitance", farads, "F");
    }

    /**
     * The same by its peak.
     *
     * @param ohm height of the peak in ohms, positive
     * @param hz resonance frequency in hertz, positive
     * @param q quality factor R·√(C/L), positive
     */
    public static Resonance ofPeak(double ohm, double hz, double q) {
        double omega = 2 * Math.PI * Quantity.positive("resonance frequency", hz, "Hz");
        Quantity.positive("quality factor", q, "(no unit)");
        return new Resonance(ohm, ohm / (omega * q), q / (omega * ohm));
    }

    /** Frequency of the peak in hertz: 1/(2π√(LC)). */
    public double resonanceHz() {
        return 1 / (2 * Math.PI * Math.sqrt(henries * farads));
    }

    /** Quality factor R·√(C/L). */
    public double qualityFactor() {
        return ohm * Math.sqrt(farads / henries);
    }

    @Override
    public Complex impedance(double hz) {
        double omega = 2 * Math.PI * hz;
        return new Complex(1 / ohm, omega * farads - 1 / (omega * henries)).reciprocal();
    }
}
