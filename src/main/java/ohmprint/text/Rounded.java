package ohmprint.text;

import java.math.BigDecimal;
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
            return new Rounded(Numbers.digits(value, DIGITS), NONE);
        }
        BigDecimal u = Numbers.decimal(uncertainty, UNCERTAINTY_DIGITS);
        BigDecimal v = BigDecimal.valueOf(value).setScale(u.scale(), RoundingMode.HALF_UP);
        return new Rounded(v.toPlainString(), u.toPlainString());
    }
}
