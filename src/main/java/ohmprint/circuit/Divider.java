package ohmprint.circuit;

import org.apache.commons.math3.complex.Complex;

/** The voltage divider of source impedance and load admittance: {@code h = 1/(1 + Z·y)}. */
public final class Divider {
    private Divider() {}

    /**
     * All that lies across the source in one take: {@code y = G + Y_in}.
     *
     * @param load the load resistor
     * @param input the recording input
     * @param hz frequency in hertz
     * @return admittance in siemens
     * @throws IllegalArgumentException if the input is not known at this frequency
     */
    public static Complex admittance(Load load, InputImpedance input, double hz) {
        return input.admittance(hz).add(load.conductance());
    }

    /**
     * Fraction of the open-circuit voltage that remains: {@code h = 1/(1 + Z·y)}.
     *
     * @param ohms source impedance Z
     * @param siemens load admittance y
     * @return a complex ratio; not finite when Z·y = −1, which no passive circuit reaches
     */
    public static Complex response(Complex ohms, Complex siemens) {
        return ohms.multiply(siemens).add(1).reciprocal();
    }

    /**
     * The ratio of the voltages of one source with two loads: {@code r = V_a/V_b = (1 + Z·y_b)/(1 + Z·y_a)}.
     *
     * @param ohms source impedance Z
     * @param siemensA load admittance y_a
     * @param siemensB load admittance y_b
     */
    public static Complex ratio(Complex ohms, Complex siemensA, Complex siemensB) {
        return ohms.multiply(siemensB).add(1).multiply(response(ohms, siemensA));
    }

    /**
     * Level lost to a load: {@code 20·lg|1 + Z·y|} in decibels, positive when the loaded voltage is the lower one.
     *
     * @param ohms source impedance Z
     * @param siemens load admittance y
     */
    public static double lossDb(Complex ohms, Complex siemens) {
        return 20 * Math.log10(ohms.multiply(siemens).add(1).abs());
    }
}
