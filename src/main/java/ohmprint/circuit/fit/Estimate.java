package ohmprint.circuit.fit;

/**
 * A value with its 95 % interval.
 *
 * @param name its word in files, with the unit where it has one
 * @param unit its unit, empty for a plain number
 * @param value the value
 * @param low lower end of the interval
 * @param high upper end
 * @param determined whether the curve fixes it: the interval is not wider than the value, and the curve reaches it
 */
public record Estimate(String name, String unit, double value, double low, double high, boolean determined) {
    /** The name in words, without the unit: {@code magnetising} for {@code magnetising_henry}. */
    public String words() {
        return name.replaceFirst("_(ohm|henry|farad|hz)$", "").replace('_', ' ');
    }
}
