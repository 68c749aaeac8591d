package ohmprint.app.report;

import java.math.BigDecimal;
import java.math.RoundingMode;
import ohmprint.impedance.PredictedValue;
import ohmprint.text.MinusSign;
import ohmprint.text.Numbers;
import ohmprint.text.Rounded;

/** Numbers and phrases as a sheet writes them. */
final class Phrases {
    private static final double FINEST_DB = 0.01;

    private Phrases() {}

    /** Ohms with their 95 % uncertainty, both rounded by it. */
    static String ohms(double value, double u95) {
        return with(Rounded.of(value, u95), "Ω");
    }

    /** A predicted value with its unit: value and uncertainty, or bounds where only those are known, or a dash. */
    static String of(PredictedValue p, String unit) {
        if (p.isValue()) {
            return with(Rounded.of(p.value(), p.u95()), unit);
        }
        return Numbers.bounds(p.low(), p.high(), unit, bound -> Numbers.digits(bound, 3));
    }

    /** A level in decibels: not finer than a hundredth, however well it is known. */
    static String level(PredictedValue p, String unit) {
        if (!p.isValue()) {
            return of(p, unit);
        }
        double u = Math.max(p.u95(), FINEST_DB);
        return u > FINEST_DB
                ? with(Rounded.of(p.value(), u), unit)
                : MinusSign.in(BigDecimal.valueOf(p.value())
                                .setScale(2, RoundingMode.HALF_UP)
                                .toPlainString())
                        + " " + unit;
    }

    /** A number without zeros at its end. */
    static String plain(double value) {
        return MinusSign.in(Numbers.brief(value, 4));
    }

    private static String with(Rounded rounded, String unit) {
        return rounded.uncertainty().equals(Rounded.NONE)
                ? MinusSign.in(rounded.value()) + " " + unit
                : MinusSign.in(rounded.value()) + " ± " + rounded.uncertainty() + " " + unit;
    }

    /** With a capital letter. */
    static String capital(String text) {
        return text.isEmpty() ? text : Character.toUpperCase(text.charAt(0)) + text.substring(1);
    }

    /** As a sentence: a capital letter and a full stop. */
    static String sentence(String text) {
        String begun = capital(text.strip());
        return begun.isEmpty() || begun.endsWith(".") ? begun : begun + ".";
    }
}
