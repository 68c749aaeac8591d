package ohmprint.text;

import com.fasterxml.jackson.core.io.NumberOutput;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.function.DoubleFunction;
import java.util.regex.Pattern;

/**
 * Numbers as text, whatever the locale, with a point and without an exponent.
 *
 * <p>For people there are three ways. {@link #digits} keeps zeros at the end: they say how far a number is known, and stand
 * in columns. {@link #brief} drops them: a sentence reads {@code 1 kHz}. {@link #exact} repeats what somebody entered. For
 * files there is {@link #inFile}.
 */
public final class Numbers {
    private static final MathContext NINE_DIGITS = new MathContext(9);
    private static final Pattern DECIMAL = Pattern.compile("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?");
    private static final String[] PREFIXES = {"p", "n", "µ", "m", "", "k", "M", "G"};
    private static final int NO_PREFIX = 4;
    private static final int RANGE_DIGITS = 3;
    /** What is rounded to 1000 by three digits. */
    private static final double LEAST_KILO = 999.5;

    private static final int OHM_DIGITS = 4;

    private Numbers() {}

    /** So many significant digits, zeros at the end included: {@code 1.00}, {@code 12000}; halves are rounded up. */
    public static String digits(double value, int significant) {
        return decimal(value, significant).toPlainString();
    }

    /** At most so many significant digits, without zeros at the end: {@code 1}, {@code 0.25}, {@code 12000}. */
    public static String brief(double value, int significant) {
        return plain(new BigDecimal(value).round(new MathContext(significant, RoundingMode.HALF_UP)));
    }

    /** At most six significant digits, without zeros at the end: what parts, settings and readings need. */
    public static String brief(double value) {
        return brief(value, 6);
    }

    /** The fewest digits that read back as this very value: {@code 0.00001}, {@code 48000}. */
    public static String exact(double value) {
        return plain(BigDecimal.valueOf(value));
    }

    /** A frequency with three significant digits, for columns: {@code 20.0 Hz}, {@code 1.00 kHz}. */
    public static String frequency(double hz) {
        return toKilo(hz, "Hz", value -> digits(value, RANGE_DIGITS));
    }

    /** A frequency in a sentence: {@code 20 Hz}, {@code 1 kHz}, {@code 12.5 kHz}. */
    public static String briefFrequency(double hz) {
        return toKilo(hz, "Hz", value -> brief(value, RANGE_DIGITS));
    }

    /** A resistance as inputs state it: {@code 600 Ω}, {@code 1.5 kΩ}. */
    public static String inputOhms(double ohm) {
        return toKilo(ohm, "Ω", value -> brief(value, RANGE_DIGITS));
    }

    private static String toKilo(double value, String unit, DoubleFunction<String> text) {
        return value < LEAST_KILO ? text.apply(value) + " " + unit : text.apply(value / 1000) + " k" + unit;
    }

    /** A resistance or impedance in a sentence, up to four digits and always in ohms: {@code 220 Ω}, {@code 1502 Ω}. */
    public static String ohms(double ohm) {
        return brief(ohm, OHM_DIGITS) + " Ω";
    }

    /**
     * A value with the prefix that keeps its number between 1 and 1000, such as {@code 1.369 H} or {@code 47.00 nF}.
     *
     * @param value the value; negative ones keep their sign
     * @param unit its unit; empty or compound ones get no prefix
     * @param significant significant digits
     */
    public static String withPrefix(double value, String unit, int significant) {
        if (!Double.isFinite(value)) {
            return value + (unit.isEmpty() ? "" : " " + unit);
        }
        if (value == 0) {
            return unit.isEmpty() ? "0" : "0 " + unit;
        }
        if (unit.isEmpty() || unit.contains("·")) {
            return digits(value, significant) + (unit.isEmpty() ? "" : " " + unit);
        }
        // What is rounded up to 1000 gets the next prefix.
        BigDecimal rounded = decimal(value, significant);
        int thousands = Math.floorDiv(rounded.precision() - rounded.scale() - 1, 3);
        int prefix = Math.max(0, Math.min(PREFIXES.length - 1, thousands + NO_PREFIX));
        return digits(value / Math.pow(1000, prefix - NO_PREFIX), significant) + " " + PREFIXES[prefix] + unit;
    }

    /** Bounds with so many significant digits and no unit, see {@link #bounds(double, double, String, DoubleFunction)}. */
    public static String bounds(double low, double high, int significant) {
        return bounds(low, high, "", bound -> digits(bound, significant));
    }

    /**
     * Bounds in words: {@code 0.4 to 0.9 dB}, {@code 0.4 dB or more}, {@code 0.9 dB or less}; a dash where neither is finite.
     *
     * @param unit the unit; empty for none
     * @param text writes a bound
     */
    public static String bounds(double low, double high, String unit, DoubleFunction<String> text) {
        String behind = unit.isEmpty() ? "" : " " + unit;
        if (Double.isFinite(low)) {
            return text.apply(low) + (Double.isFinite(high) ? " to " + text.apply(high) + behind : behind + " or more");
        }
        return Double.isFinite(high) ? text.apply(high) + behind + " or less" : Rounded.NONE;
    }

    /** Nine significant digits without zeros at the end; empty for NaN and infinity, which no file holds. */
    public static String inFile(double value) {
        return Double.isFinite(value) ? plain(new BigDecimal(shortest(value)).round(NINE_DIGITS)) : "";
    }

    /** As {@link Double#toString}, with an exponent where that has one, several times as fast. */
    public static String shortest(double value) {
        return NumberOutput.toString(value, true);
    }

    /** True for a decimal number in Western digits with a point; false for anything else, hexadecimal and NaN included. */
    public static boolean isNumber(String text) {
        return DECIMAL.matcher(text).matches();
    }

    static BigDecimal decimal(double value, int significant) {
        BigDecimal exact = new BigDecimal(value);
        BigDecimal rounded = exact.round(new MathContext(significant, RoundingMode.HALF_UP));
        int missing = significant - rounded.precision();
        return missing > 0 && value != 0 ? rounded.setScale(rounded.scale() + missing) : rounded;
    }

    private static String plain(BigDecimal value) {
        return value.signum() == 0 ? "0" : value.stripTrailingZeros().toPlainString();
    }
}
