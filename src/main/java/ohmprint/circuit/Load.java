package ohmprint.circuit;

import java.util.Objects;
import ohmprint.text.Numbers;

/**
 * The resistor across the microphone's output during one take, or none.
 *
 * <p>It does not include the recording input, which is always in parallel: see {@link InputImpedance}.
 */
public final class Load {
    private static final Load OPEN = new Load(Double.POSITIVE_INFINITY, Double.NaN, Double.NaN);

    private final double ohm;
    private final double tolerancePercent;
    private final double standardUncertaintyOhm;

    private Load(double ohm, double tolerancePercent, double standardUncertaintyOhm) {
        this.ohm = ohm;
        this.tolerancePercent = tolerancePercent;
        this.standardUncertaintyOhm = standardUncertaintyOhm;
    }

    /**
     * A resistor with the value and tolerance printed on it.
     *
     * @param ohm resistance in ohms, positive and finite
     * @param tolerancePercent tolerance in percent, from 0 to below 100
     * @throws IllegalArgumentException if either is outside its range
     */
    public static Load ofOhms(double ohm, double tolerancePercent) {
        return new Load(Quantity.resistance("load", ohm), Quantity.tolerance("load", tolerancePercent), Double.NaN);
    }

    /**
     * A resistor whose value was measured.
     *
     * @param ohm resistance in ohms, positive and finite
     * @param standardUncertaintyOhm standard uncertainty (k = 1) in ohms, from 0 to below the resistance
     * @throws IllegalArgumentException if either is outside its range
     */
    public static Load measured(double ohm, double standardUncertaintyOhm) {
        Quantity.resistance("load", ohm);
        if (!(standardUncertaintyOhm >= 0) || standardUncertaintyOhm >= ohm) {
            throw new IllegalArgumentException("the standard uncertainty of a load of " + Numbers.brief(ohm)
                    + " Ω cannot be " + standardUncertaintyOhm + " Ω; give a value from 0 Ω to below the resistance");
        }
        return new Load(ohm, Double.NaN, standardUncertaintyOhm);
    }

    /** No resistor: the microphone drives the recording input alone. */
    public static Load open() {
        return OPEN;
    }

    /** True when there is no resistor. */
    public boolean isOpen() {
        return ohm == Double.POSITIVE_INFINITY;
    }

    /** True when the value was measured and its standard uncertainty stated, rather than a tolerance. */
    public boolean isMeasured() {
        return !Double.isNaN(standardUncertaintyOhm);
    }

    /** Resistance in ohms; positive infinity when open. */
    public double ohm() {
        return ohm;
    }

    /** Conductance G = 1/R in siemens; 0 when open. */
    public double conductance() {
        return isOpen() ? 0 : 1 / ohm;
    }

    /** Tolerance in percent; NaN when open or measured. */
    public double tolerancePercent() {
        return tolerancePercent;
    }

    /** Standard uncertainty in ohms of a measured load; NaN otherwise. */
    public double standardUncertaintyOhm() {
        return standardUncertaintyOhm;
    }

    /** Relative standard uncertainty of R, equally of G: tolerance/√3, or u(R)/R when measured; 0 when open. */
    public double relativeStandardUncertainty() {
        if (isOpen()) {
            return 0;
        }
        return isMeasured() ? standardUncertaintyOhm / ohm : Quantity.rectangular(tolerancePercent);
    }

    /** For captions: {@code 330 Ω}, or {@code open}. */
    public String label() {
        return isOpen() ? "open" : Numbers.brief(ohm) + " Ω";
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Load l
                && Double.compare(l.ohm, ohm) == 0
                && Double.compare(l.tolerancePercent, tolerancePercent) == 0
                && Double.compare(l.standardUncertaintyOhm, standardUncertaintyOhm) == 0;
    }

    @Override
    public int hashCode() {
        return Objects.hash(ohm, tolerancePercent, standardUncertaintyOhm);
    }

    @Override
    public String toString() {
        return label();
    }
}
