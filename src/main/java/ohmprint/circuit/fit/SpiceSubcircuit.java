package ohmprint.circuit.fit;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.circuit.fit.Part.Parallel;
import ohmprint.circuit.fit.Part.Series;

/**
 * A circuit as a SPICE subcircuit of two pins made of resistors, inductors and capacitors alone, so that every SPICE runs
 * it in AC and transient analysis.
 *
 * <p>The inductor with loss becomes a chain of inductors bridged by resistors. From
 * {@code s^n = (sin nπ/π)·∫₀^∞ x^(n−1)·s/(s + x) dx} with x = e^u and the trapezoidal rule of step h in u,
 *
 * <pre>{@code K·s^n ≈ Σ_k R_k·s/(s + x_k),   R_k = K·(sin nπ/π)·h·x_k^n,   L_k = R_k/x_k}</pre>
 *
 * <p>each term being L_k bridged by R_k. What lies below the chain is a resistor and what lies above it an inductor, both
 * geometric sums. With h = 1 the rule is off by e^(−π²) or 5·10⁻⁵, and the ends add less than 1.5·10⁻³ within the range
 * that is asked for.
 */
public final class SpiceSubcircuit {
    private static final double STEP = 1;
    /** The chain reaches this far beyond the range, in the logarithm of frequency: a factor of about 50. */
    private static final double BEYOND = 4;

    private final List<String> lines = new ArrayList<>();
    private final double lowOmega;
    private final double highOmega;
    private int nodes;
    private int parts;

    private SpiceSubcircuit(double lowHz, double highHz) {
        lowOmega = 2 * Math.PI * lowHz;
        highOmega = 2 * Math.PI * highHz;
    }

    /**
     * The netlist, ending with a line feed.
     *
     * @param circuit the circuit
     * @param name name of the subcircuit; what SPICE does not allow in a name becomes an underscore
     * @param comments lines without line feeds that are put before it
     */
    public static String of(FittedCircuit circuit, String name, List<String> comments) {
        SpiceSubcircuit out = new SpiceSubcircuit(circuit.lowestHz(), circuit.highestHz());
        comments.forEach(comment -> out.lines.add("* " + comment));
        String word = name(name);
        out.lines.add(".subckt " + word + " a b");
        out.write(circuit.part(), circuit.parameters(), 0, "a", "b");
        out.lines.add(".ends " + word);
        return String.join("\n", out.lines) + "\n";
    }

    /** A label as a name that SPICE allows: lower-case letters, digits and underscores, a letter first. */
    public static String name(String label) {
        String word =
                label.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "_").replaceAll("^_|_$", "");
        return word.isEmpty() || !Character.isLetter(word.charAt(0)) ? "microphone_" + word : word;
    }

    private void write(Part part, double[] p, int at, String from, String to) {
        if (part instanceof Series series) {
            series(series, p, at, from, to);
        } else if (part instanceof Parallel both) {
            write(both.one(), p, at, from, to);
            write(both.other(), p, at + both.one().size(), from, to);
        } else if (part instanceof Part.Resistor) {
            element("R", from, to, Math.exp(p[at]));
        } else if (part instanceof Part.Inductor) {
            element("L", from, to, Math.exp(p[at]));
        } else if (part instanceof Part.Capacitor) {
            element("C", from, to, Math.exp(p[at]));
        } else if (part instanceof Part.Tuned) {
            double ohm = Math.exp(p[at]);
            double omega = 2 * Math.PI * Math.exp(p[at + 1]);
            double quality = Math.exp(p[at + 2]);
            element("R", from, to, ohm);
            element("L", from, to, ohm / (quality * omega));
            element("C", from, to, quality / (ohm * omega));
        } else if (part instanceof Part.LossyInductor) {
            chain(part.values().get(0).of().from(p, at), Part.LossyInductor.exponent(p[at + 1]), from, to);
        }
    }

    private void series(Series series, double[] p, int at, String from, String to) {
        String node = from;
        int index = at;
        for (int i = 0; i < series.parts().size(); i++) {
            Part part = series.parts().get(i);
            String next = i == series.parts().size() - 1 ? to : node();
            write(part, p, index, node, next);
            index += part.size();
            node = next;
        }
    }

    private void chain(double k, double n, String from, String to) {
        double scale = k * Math.sin(n * Math.PI) / Math.PI * STEP;
        int first = (int) Math.floor((Math.log(lowOmega) - BEYOND) / STEP);
        int last = (int) Math.ceil((Math.log(highOmega) + BEYOND) / STEP);
        // Σ x^n over all steps below the first, and Σ x^(n−1) over all above the last.
        double below = scale * Math.exp(n * STEP * (first - 1)) / (1 - Math.exp(-n * STEP));
        double above = scale * Math.exp((n - 1) * STEP * (last + 1)) / (1 - Math.exp((n - 1) * STEP));
        String node = node();
        element("R", from, node, below);
        for (int i = first; i <= last; i++) {
            double corner = Math.exp(i * STEP);
            double ohm = scale * Math.pow(corner, n);
            String next = node();
            element("R", node, next, ohm);
            element("L", node, next, ohm / corner);
            node = next;
        }
        element("L", node, to, above);
    }

    private String node() {
        nodes++;
        return "n" + nodes;
    }

    private void element(String kind, String from, String to, double value) {
        parts++;
        lines.add(String.format(Locale.ROOT, "%s%d %s %s %.9g", kind, parts, from, to, value));
    }
}
