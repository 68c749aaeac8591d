package ohmprint.spec;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/** Numbers in sentences: three or four digits, no exponent, no needless zeros. */
final class InWords {
    private static final MathContext THREE_DIGITS = new MathContext(3);
    private static final MathContext FOUR_DIGITS = new MathContext(4);
    private static final MathContext TWO_DIGITS = new MathContext(2);

    private InWords() {}

    static String hertz(double hz) {
        return hz < 999.5 ? plain(hz, THREE_DIGITS) + " Hz" : plain(hz / 1000, THREE_DIGITS) + " kHz";
    }

    /** A value and its 95 % uncertainty, this with two digits. Source: JCGM 100:2008, 7.2.6. */
    static String measured(double ohm, double u95Ohm) {
        if (!(u95Ohm > 0) || Double.isInfinite(u95Ohm)) {
            return ohms(ohm);
        }
        BigDecimal u = new BigDecimal(u95Ohm).round(TWO_DIGITS);
        return new BigDecimal(ohm)
                        .setScale(Math.max(0, u.scale()), RoundingMode.HALF_UP)
                        .toPlainString() + " ± " + u.toPlainString() + " Ω";
    }

    /** A share in percent with two digits. */
    static String percent(double percent) {
        return plain(percent, TWO_DIGITS) + " %";
    }

    /** A probability with as many nines as it has; 0 and 1 are never claimed. */
    static String probability(double p) {
        if (p > 0.9999) {
            return "above 99.99 %";
        }
        return p < 0.0001 ? "below 0.01 %" : plain(100 * p, new MathContext(p > 0.99 ? 4 : 3)) + " %";
    }

    static String ohms(double ohm) {
        return plain(ohm, FOUR_DIGITS) + " Ω";
    }

    /** A difference, with three digits. */
    static String difference(double ohm) {
        return plain(ohm, THREE_DIGITS) + " Ω";
    }

    /** A range of limits, open on a side that has none. */
    static String limits(Limits limits) {
        if (!limits.hasHigh()) {
            return "at least " + ohms(limits.lowOhm());
        }
        return limits.hasLow()
                ? plain(limits.lowOhm(), FOUR_DIGITS) + " to " + ohms(limits.highOhm())
                : "at most " + ohms(limits.highOhm());
    }

    static String range(double fromHz, double toHz) {
        return hertz(fromHz) + " to " + hertz(toHz);
    }

    private static String plain(double value, MathContext digits) {
        return new BigDecimal(value).round(digits).stripTrailingZeros().toPlainString();
    }
}
