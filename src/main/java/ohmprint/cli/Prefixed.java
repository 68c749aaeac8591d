package ohmprint.cli;

import ohmprint.curve.Rounded;

/** A value with the prefix that keeps its number between 1 and 1000, such as {@code 1.369 H} or {@code 47.00 nF}. */
final class Prefixed {
    private static final String[] PREFIXES = {"p", "n", "µ", "m", "", "k", "M", "G"};
    private static final int NONE = 4;

    private Prefixed() {}

    /**
     * The text.
     *
     * @param value the value; negative ones keep their sign
     * @param unit its unit; empty or compound ones get no prefix
     * @param digits significant digits
     */
    static String of(double value, String unit, int digits) {
        if (value == 0 || !Double.isFinite(value)) {
            return value + (unit.isEmpty() ? "" : " " + unit);
        }
        if (unit.isEmpty() || unit.contains("·")) {
            return Rounded.digits(value, digits) + (unit.isEmpty() ? "" : " " + unit);
        }
        double size = Math.abs(value) * (1 + 0.5 * Math.pow(10, -digits));
        int thousands = (int) Math.floor(Math.log10(size) / 3);
        int prefix = Math.max(0, Math.min(PREFIXES.length - 1, thousands + NONE));
        return Rounded.digits(value / Math.pow(1000, prefix - NONE), digits) + " " + PREFIXES[prefix] + unit;
    }
}
