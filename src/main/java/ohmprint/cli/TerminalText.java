package ohmprint.cli;

import java.util.List;
import java.util.Locale;
import ohmprint.impedance.PredictedValue;
import ohmprint.text.Numbers;
import ohmprint.text.Rounded;

/** Words and numbers as they are printed on a terminal. */
final class TerminalText {
    private static final double LEAST_SHOWN = 0.0005;
    private static final double LEAST_TENTH = 0.05;

    private TerminalText() {}

    /** Text from outside with line ends and other control characters, which could steer a terminal, as spaces. */
    static String oneLine(String text) {
        StringBuilder line = new StringBuilder(text.length());
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            line.append(Character.isISOControl(c) || c == '\u2028' || c == '\u2029' ? ' ' : c);
        }
        return line.toString();
    }

    /** Words in a row, {@code a}, {@code a or b}, {@code a, b or c}: commas, and the given word before the last. */
    static String list(List<String> words, String joint) {
        int last = words.size() - 1;
        return last < 1
                ? String.join("", words)
                : String.join(", ", words.subList(0, last)) + " " + joint + " " + words.get(last);
    }

    /** A share in percent with two significant digits; {@code none} when it has no bound. */
    static String percent(double value) {
        return Double.isInfinite(value) ? "none" : Numbers.digits(value, 2) + " %";
    }

    /** Ohms with their unit and, where it is determined, their 95 % uncertainty. */
    static String ohms(double value, double u95) {
        Rounded rounded = Rounded.of(value, u95);
        boolean exact = rounded.uncertainty().equals(Rounded.NONE);
        return rounded.value() + (exact ? "" : " ± " + rounded.uncertainty()) + " Ω";
    }

    /** A predicted value in ohms with its unit; a dash for what is not determined. */
    static String ohms(PredictedValue p) {
        return p.isValue()
                ? ohms(p.value(), p.u95())
                : Numbers.bounds(p.low(), p.high(), "Ω", bound -> Numbers.digits(bound, 2));
    }

    /** Decibels or a ratio with 95 % uncertainty, {@code 0.828 ± 0.012}; bounds; a dash. Three decimals are plenty. */
    static String predicted(PredictedValue p) {
        if (!p.isValue()) {
            return Numbers.bounds(p.low(), p.high(), 2);
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
        if (!p.isValue()) {
            return Numbers.bounds(p.low(), p.high(), "", bound -> String.format(Locale.ROOT, "%.1f", bound));
        }
        return p.u95() < LEAST_TENTH
                ? String.format(Locale.ROOT, "%.1f", p.value())
                : String.format(Locale.ROOT, "%.1f ± %.1f", p.value(), p.u95());
    }

    /** Millivolts, without uncertainty: the level in decibels beside them has it. */
    static String millivolt(PredictedValue p) {
        return p.isValue() ? Numbers.digits(p.value(), 3) : Numbers.bounds(p.low(), p.high(), 2);
    }

    /** Where a predicted value is found, with the unit. */
    static String frequency(PredictedValue p) {
        return Double.isNaN(p.hz()) ? Rounded.NONE : Numbers.frequency(p.hz());
    }
}
