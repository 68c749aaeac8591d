package ohmprint.circuit.fit;

import java.util.ArrayList;
import java.util.List;

/**
 * A value that is stated about a part.
 *
 * @param name its word in files
 * @param unit its unit, empty for a plain number
 * @param positive whether it is positive by nature, so that its interval is one of ratios
 * @param of computes it
 */
record Value(String name, String unit, boolean positive, Reading of) {
    /** Computes a value from the parameters of a circuit. */
    @FunctionalInterface
    interface Reading {
        /**
         * The value.
         *
         * @param p parameters of the whole circuit
         * @param at index of the first of the part
         */
        double from(double[] p, int at);
    }

    /**
     * A value that is e to a parameter.
     *
     * @param offset index of the parameter within the part
     */
    static Value positive(String name, String unit, int offset) {
        return new Value(name, unit, true, (p, at) -> Math.exp(p[at + offset]));
    }

    /** The values of parts whose parameters follow one another, as values of the first. */
    static List<Value> joined(List<Part> parts) {
        List<Value> out = new ArrayList<>();
        int from = 0;
        for (Part part : parts) {
            int shift = from;
            for (Value value : part.values()) {
                out.add(new Value(
                        value.name(),
                        value.unit(),
                        value.positive(),
                        (p, at) -> value.of().from(p, at + shift)));
            }
            from += part.size();
        }
        return out;
    }
}
