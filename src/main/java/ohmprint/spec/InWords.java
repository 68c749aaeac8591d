package ohmprint.spec;

import java.math.BigDecimal;
import java.math.MathContext;

/** Numbers in sentences: three or four digits, no exponent, no needless zeros. */
final class InWords {
    private static final MathContext FREQUENCY = new MathContext(3);
    private static final MathContext OHMS = new MathContext(4);

    private InWords() {}

    static String hertz(double hz) {
        return hz < 999.5 ? plain(hz, FREQUENCY) + " Hz" : plain(hz / 1000, FREQUENCY) + " kHz";
    }

    static String ohms(double ohm) {
        return plain(ohm, OHMS) + " Ω";
    }

    /** A range of limits, open on a side that has none. */
    static String limits(Limits limits) {
        if (!limits.hasHigh()) {
            return "at least " + ohms(limits.lowOhm());
        }
        return limits.hasLow()
                ? plain(limits.lowOhm(), OHMS) + " to " + ohms(limits.highOhm())
                : "at most " + ohms(limits.highOhm());
    }

    static String range(double fromHz, double toHz) {
        return hertz(fromHz) + " to " + hertz(toHz);
    }

    private static String plain(double value, MathContext digits) {
        return new BigDecimal(value).round(digits).stripTrailingZeros().toPlainString();
    }
}
