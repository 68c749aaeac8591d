package ohmprint.circuit;

import org.apache.commons.math3.complex.Complex;

/**
 * A series circuit read as a parallel one, so that an input impedance is measured by what measures a source impedance.
 *
 * <p>A generator E with its own impedance Z_g drives an input Z_in through a resistor S: {@code V = E/(1 + Y_in·(S + Z_g))}.
 * With {@code Z = R_0²·Y_in}, {@code G = S/R_0²} and {@code Y = Z_g/R_0²} it reads {@code V = E/(1 + Z·(G + Y))}: a source of
 * impedance Z with the load 1/G beside an input of admittance Y. A short in place of the resistor is an open load; a
 * generator about which nothing is known leaves Z_in in series with it, as an unknown input leaves a source in parallel
 * with it. Relative uncertainties are the same on both sides. R_0 is {@value #OHM} Ω; the results do not depend on it.
 */
public final class Dual {
    /** R_0 in ohms. */
    public static final double OHM = 1000;

    private Dual() {}

    /**
     * Ohms of the other side: {@code R_0²/R}; of a short an open circuit and the reverse.
     *
     * @param ohm resistance or magnitude in ohms, 0 to infinity
     */
    public static double ohm(double ohm) {
        return OHM * OHM / ohm;
    }

    /** Impedance of the other side, {@code R_0²/Z}, ohms. */
    public static Complex ohms(Complex impedance) {
        return impedance.reciprocal().multiply(OHM * OHM);
    }

    /**
     * The load that stands for a resistor in series.
     *
     * @param ohm its resistance in ohms; 0 for a short
     * @param tolerancePercent its tolerance in percent
     */
    public static Load series(double ohm, double tolerancePercent) {
        return ohm == 0 ? Load.open() : Load.ofOhms(ohm(ohm), tolerancePercent);
    }

    /**
     * The load that stands for a measured resistor in series.
     *
     * @param ohm its resistance in ohms, positive
     * @param standardUncertaintyOhm its standard uncertainty in ohms
     */
    public static Load measuredSeries(double ohm, double standardUncertaintyOhm) {
        return Load.measured(ohm(ohm), ohm(ohm) * standardUncertaintyOhm / ohm);
    }

    /**
     * The input that stands for the generator's own resistance.
     *
     * @param ohm its resistance in ohms, positive
     * @param tolerancePercent its tolerance in percent
     */
    public static InputImpedance generator(double ohm, double tolerancePercent) {
        return InputImpedance.ofOhms(ohm(ohm), tolerancePercent);
    }
}
