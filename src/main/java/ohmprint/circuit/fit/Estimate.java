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
    /** The name in words: {@code magnetising inductance} for {@code magnetising_henry}. */
    public String words() {
        int cut = Math.max(0, name.lastIndexOf('_'));
        String part = name.substring(0, cut).replace('_', ' ');
        String kind = switch (name.substring(cut)) {
            case "_ohm" -> part.endsWith("resonance") ? "peak" : "resistance";
            case "_henry" -> "inductance";
            case "_farad" -> "capacitance";
            case "_hz" -> "frequency";
            case "_q" -> "quality";
            default -> name.substring(cut).replace('_', ' ').strip();
        };
        return part.endsWith(kind) ? part : part + " " + kind;
    }
}
