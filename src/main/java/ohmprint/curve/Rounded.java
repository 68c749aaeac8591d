package ohmprint.curve;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/**
 * A value and its uncertainty as they are printed: the uncertainty with two significant digits, the value to the same
 * decimal place. Source: JCGM 100:2008, 7.2.6.
 *
 * @param value the value, or a dash when there is none
 * @param uncertainty the uncertainty, or a dash when it is not determined
 */
public record Rounded(String value, String uncertainty) {
    /** What stands for a number that the evidence does not determine. */
    public static final String NONE = "–";

    private static final int UNCERTAINTY_DIGITS = 2;
    private static final int DIGITS = 4;

    /** Rounds the two together; without a finite, positive uncertainty the value has four digits. */
    public static Rounded of(double value, double uncertainty) {
        if (!Double.isFinite(value)) {
            return new Rounded(NONE, NONE);
        }
        if (!Double.isFinite(uncertainty) || !(uncertainty > 0)) {
            return new Rounded(digits(value, DIGITS), NONE);
        }
        BigDecimal u = decimal(uncertainty, UNCERTAINTY_DIGITS);
        BigDecimal v = BigDecimal.valueOf(value).setScale(u.scale(), RoundingMode.HALF_UP);
        return new Rounded(v.toPlainString(), u.toPlainString());
    }

    /** A number with so many significant digits, without an exponent. */
    public static String digits(double value, int significant) {
        return decimal(value, significant).toPlainString();
    }

    /** A frequency with three significant digits and its unit. */
    public static String frequency(double hz) {
        return prefixed(hz) + (hz < 999.5 ? " Hz" : " kHz");
    }

    private static String prefixed(double hz) {
        return digits(hz < 999.5 ? hz : hz / 1000, 3);
    }

    /** Keeps trailing zeros, which say how far the number is known. */
    private static BigDecimal decimal(double value, int significant) {
        BigDecimal exact = new BigDecimal(value);
        BigDecimal rounded = exact.round(new MathContext(significant, RoundingMode.HALF_UP));
        int missing = significant - rounded.precision();
        return missing > 0 && value != 0 ? rounded.setScale(rounded.scale() + missing) : rounded;
    }
}
