package ohmprint.circuit;

/** Ranges that a circuit value must lie in, and how such a value is written. */
final class Quantity {
    private Quantity() {}

    static double resistance(String what, double ohm) {
        if (!(ohm > 0) || Double.isInfinite(ohm)) {
            throw new IllegalArgumentException("a " + what + " of " + ohm
                    + " Ω is not possible; give a positive, finite resistance in ohms"
                    + (what.equals("load") ? ", or open" : ""));
        }
        return ohm;
    }

    static double tolerance(String what, double percent) {
        if (!(percent >= 0) || percent >= 100) {
            throw new IllegalArgumentException(
                    "a " + what + " tolerance of " + percent + " % is not possible; give 0 % to below 100 %");
        }
        return percent;
    }

    /** A value of a part, in the given unit, that has to be positive. */
    static double positive(String what, double value, String unit) {
        if (!(value > 0) || Double.isInfinite(value)) {
            throw new IllegalArgumentException(
                    "a " + what + " of " + value + " " + unit + " is not possible; give a positive, finite value");
        }
        return value;
    }

    /** A value of a part, in the given unit, that may be absent: zero. */
    static double notNegative(String what, double value, String unit) {
        if (!(value >= 0) || Double.isInfinite(value)) {
            throw new IllegalArgumentException("a " + what + " of " + value + " " + unit
                    + " is not possible; give a finite value of 0 " + unit + " or more");
        }
        return value;
    }

    /** Standard uncertainty, as a fraction, of a rectangular distribution with this half-width in percent. */
    static double rectangular(double percent) {
        return percent / 100 / Math.sqrt(3);
    }

    /** Susceptance in siemens of a capacitance in picofarads. */
    static double susceptance(double hz, double pf) {
        return 2 * Math.PI * hz * pf * 1e-12;
    }
}
