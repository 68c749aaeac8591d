package ohmprint.conformity;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import ohmprint.text.Numbers;

/** Numbers in sentences: three or four digits, no exponent, no needless zeros. */
final class InWords {
    private static final MathContext TWO_DIGITS = new MathContext(2);

    private InWords() {}

    /** A value and its 95 % uncertainty, this with two digits. Source: JCGM 100:2008, 7.2.6. */
    static String measured(double ohm, double u95Ohm) {
        if (!(u95Ohm > 0) || Double.isInfinite(u95Ohm)) {
            return Numbers.ohms(ohm);
        }
        BigDecimal u = new BigDecimal(u95Ohm).round(TWO_DIGITS);
        return new BigDecimal(ohm)
                        .setScale(Math.max(0, u.scale()), RoundingMode.HALF_UP)
                        .toPlainString() + " ± " + u.toPlainString() + " Ω";
    }

    /** A share in percent with two digits. */
    static String percent(double percent) {
        return Numbers.brief(percent, 2) + " %";
    }

    /** A probability with as many nines as it has; 0 and 1 are never claimed. */
    static String probability(double p) {
        if (p > 0.9999) {
            return "above 99.99 %";
        }
        return p < 0.0001 ? "below 0.01 %" : Numbers.brief(100 * p, p > 0.99 ? 4 : 3) + " %";
    }

    /** A difference, with three digits. */
    static String difference(double ohm) {
        return Numbers.brief(ohm, 3) + " Ω";
    }

    /** A range of limits, open on a side that has none. */
    static String limits(Limits limits) {
        if (!limits.hasHigh()) {
            return "at least " + Numbers.ohms(limits.lowOhm());
        }
        return limits.hasLow()
                ? Numbers.brief(limits.lowOhm(), 4) + " to " + Numbers.ohms(limits.highOhm())
                : "at most " + Numbers.ohms(limits.highOhm());
    }

    static String range(double fromHz, double toHz) {
        return Numbers.briefFrequency(fromHz) + " to " + Numbers.briefFrequency(toHz);
    }
}
