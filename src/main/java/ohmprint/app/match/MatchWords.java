package ohmprint.app.match;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import ohmprint.curve.MinusSign;
import ohmprint.curve.PredictedValue;

/** Numbers of a match in words for pictures, whatever the locale. */
final class MatchWords {
    private static final int DIGITS = 3;

    private MatchWords() {}

    /** {@code 2.38 kΩ}, {@code 2.1 to 2.9 kΩ}, {@code not determined}. */
    static String ohms(PredictedValue p) {
        if (p.isValue()) {
            return ohms(p.value());
        }
        return p.isBounded()
                ? ohms(p.low()) + (Double.isInfinite(p.high()) ? " or more" : " to " + ohms(p.high()))
                : "not determined";
    }

    private static String ohms(double ohm) {
        return ohm < 999.5 ? digits(ohm) + " Ω" : digits(ohm / 1000) + " kΩ";
    }

    /** {@code 148 Hz}, {@code 18.8 kHz}. */
    static String hertz(double hz) {
        return hz < 999.5 ? digits(hz) + " Hz" : digits(hz / 1000) + " kHz";
    }

    /** {@code 0.83 dB}, {@code 0.4 to 0.9 dB}, {@code not determined}. */
    static String decibels(PredictedValue p) {
        if (p.isValue()) {
            return hundredths(p.value()) + " dB";
        }
        if (!p.isBounded()) {
            return "not determined";
        }
        return Double.isInfinite(p.high())
                ? hundredths(p.low()) + " dB or more"
                : hundredths(p.low()) + " to " + hundredths(p.high()) + " dB";
    }

    /** What a least resistance is, in words. */
    static String least(Matching.LeastResistance least) {
        if (least.any()) {
            return "any";
        }
        if (!least.ohm().isValue() && !least.ohm().isBounded()) {
            return "none is enough";
        }
        String limit = Double.isInfinite(least.upToOhm()) || Double.isNaN(least.upToOhm())
                ? ""
                : ", up to " + ohms(least.upToOhm());
        return ohms(least.ohm()) + limit;
    }

    private static String hundredths(double db) {
        BigDecimal rounded = BigDecimal.valueOf(db).setScale(2, RoundingMode.HALF_UP);
        return rounded.signum() == 0 ? "0.00" : MinusSign.in(rounded.toPlainString());
    }

    private static String digits(double value) {
        return new BigDecimal(value)
                .round(new MathContext(DIGITS, RoundingMode.HALF_UP))
                .stripTrailingZeros()
                .toPlainString();
    }
}
