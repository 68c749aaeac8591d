package ohmprint.exchange;

import com.fasterxml.jackson.core.io.NumberOutput;
import java.math.BigDecimal;
import java.math.MathContext;
import java.util.regex.Pattern;

/** Numbers as text, whatever the locale: {@code 159.154943}, {@code -0.5}, {@code 12000}. */
public final class Numbers {
    private static final MathContext NINE_DIGITS = new MathContext(9);
    private static final Pattern DECIMAL = Pattern.compile("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?");

    private Numbers() {}

    /** Nine significant digits without exponent or trailing zeros; empty for NaN and infinity, which no file holds. */
    public static String text(double value) {
        if (!Double.isFinite(value)) {
            return "";
        }
        BigDecimal rounded = new BigDecimal(shortest(value)).round(NINE_DIGITS);
        return rounded.signum() == 0 ? "0" : rounded.stripTrailingZeros().toPlainString();
    }

    /** The fewest digits that read back as this very value, as {@link Double#toString} has them, several times as fast. */
    static String shortest(double value) {
        return NumberOutput.toString(value, true);
    }

    /** True for a decimal number in Western digits with a point; false for anything else, hexadecimal and NaN included. */
    static boolean isNumber(String text) {
        return DECIMAL.matcher(text).matches();
    }
}
