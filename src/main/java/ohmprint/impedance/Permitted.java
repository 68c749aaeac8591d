package ohmprint.impedance;

import ohmprint.text.Numbers;
import org.jspecify.annotations.Nullable;

/**
 * The numbers that files and people may state, by their unit: wide enough for everything on a bench, narrow enough that
 * no product or quotient of them leaves what a double can hold. Common practice, no source.
 *
 * <p>Every reader refuses what lies outside and names the range. Where 0 has a meaning of its own (an exact resistor, no
 * capacitance) it is permitted besides.
 */
public enum Permitted {
    /** Resistances and impedances, in ohms. */
    OHM("Ω", 1e-3, 1e9),

    /** Standard uncertainties of resistances, in ohms. */
    UNCERTAINTY_OHM("Ω", 1e-9, 1e9),

    /** Frequencies, in hertz. */
    HERTZ("Hz", 1e-3, 1e6),

    /** Tolerances and uncertainties, in percent. */
    PERCENT("%", 1e-6, 1e4),

    /** Capacitances, in picofarads. */
    PICOFARAD("pF", 1e-3, 1e6),

    /**
     * Ohms of a measured curve: a million times wider, because a value that noise has driven away must still be read back
     * from the file that says so.
     */
    CURVE_OHM("Ω", 1e-9, 1e15);

    private final String unit;
    private final double least;
    private final double most;

    Permitted(String unit, double least, double most) {
        this.unit = unit;
        this.least = least;
        this.most = most;
    }

    /** The range of what is stated in a unit; null where there is none. */
    public static @Nullable Permitted ofUnit(String unit) {
        return switch (unit) {
            case "Ω" -> OHM;
            case "Hz" -> HERTZ;
            case "%" -> PERCENT;
            case "pF" -> PICOFARAD;
            default -> null;
        };
    }

    /** The unit. */
    public String unit() {
        return unit;
    }

    /** The least size other than 0. */
    public double least() {
        return least;
    }

    /** The greatest size. */
    public double most() {
        return most;
    }

    /** Whether the size of a value, whatever its sign, lies within. */
    public boolean holds(double value) {
        double size = Math.abs(value);
        return size >= least && size <= most;
    }

    /** The range in words, as in {@code 0.001 to 1000000000 Ω}. */
    public String words() {
        return Numbers.exact(least) + " to " + Numbers.exact(most) + " " + unit;
    }
}
