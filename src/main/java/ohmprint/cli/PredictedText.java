package ohmprint.cli;

import java.util.Locale;
import ohmprint.curve.PredictedValue;
import ohmprint.curve.Rounded;

/**
 * Predicted values as they are printed: a value with its 95 % uncertainty, {@code 0.828 ± 0.012}; bounds, {@code 0.4 to
 * 0.9}; a dash for what is not determined.
 */
final class PredictedText {
    private static final double LEAST_SHOWN = 0.0005;
    private static final double LEAST_TENTH = 0.05;

    private PredictedText() {}

    /** Decibels or a ratio; three decimals are plenty. */
    static String of(PredictedValue p) {
        if (p.isBounded()) {
            return bounds(p);
        }
        if (!p.isValue()) {
            return Rounded.NONE;
        }
        if (!(p.u95() >= LEAST_SHOWN)) {
            return String.format(Locale.ROOT, "%.3f", p.value());
        }
        Rounded rounded = Rounded.of(p.value(), p.u95());
        return rounded.uncertainty().length() <= "0.000".length()
                ? rounded.value() + " ± " + rounded.uncertainty()
                : String.format(Locale.ROOT, "%.3f ± %.3f", p.value(), p.u95());
    }

    /** Levels and gains in decibels, to the tenth. */
    static String tenths(PredictedValue p) {
        if (p.isBounded()) {
            return String.format(Locale.ROOT, "%.1f to %.1f", p.low(), p.high());
        }
        if (!p.isValue()) {
            return Rounded.NONE;
        }
        return p.u95() < LEAST_TENTH
                ? String.format(Locale.ROOT, "%.1f", p.value())
                : String.format(Locale.ROOT, "%.1f ± %.1f", p.value(), p.u95());
    }

    /** Ohms with their unit. */
    static String ohms(PredictedValue p) {
        if (p.isBounded()) {
            return bounds(p) + " Ω";
        }
        Rounded rounded = Rounded.of(p.value(), p.u95());
        boolean exact = rounded.uncertainty().equals(Rounded.NONE);
        return !p.isValue() ? Rounded.NONE : rounded.value() + (exact ? "" : " ± " + rounded.uncertainty()) + " Ω";
    }

    /** Millivolts, without uncertainty: the level in decibels beside them has it. */
    static String millivolt(PredictedValue p) {
        return p.isValue() ? Rounded.digits(p.value(), 3) : p.isBounded() ? bounds(p) : Rounded.NONE;
    }

    /** Where the value is found, with the unit. */
    static String frequency(PredictedValue p) {
        return Double.isNaN(p.hz()) ? Rounded.NONE : Rounded.frequency(p.hz());
    }

    private static String bounds(PredictedValue p) {
        String low = Rounded.digits(p.low(), 2);
        return Double.isInfinite(p.high()) ? low + " or more" : low + " to " + Rounded.digits(p.high(), 2);
    }
}
