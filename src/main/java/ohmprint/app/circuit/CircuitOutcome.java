package ohmprint.app.circuit;

import java.nio.file.Path;
import java.util.List;
import ohmprint.impedance.ChiSquare;
import org.jspecify.annotations.Nullable;

/**
 * The circuit behind a curve.
 *
 * @param microphone label of the microphone
 * @param quantity what the ohms are, in words
 * @param family {@code moving-coil}, {@code ribbon}, {@code capacitor-coupled} or {@code plain}
 * @param circuit its parts in words
 * @param lowestHz first midband that was fitted, hertz
 * @param highestHz last midband
 * @param values values of the parts, in the order of the circuit
 * @param dcResistance resistance towards 0 Hz; null behind a capacitor
 * @param topInductance X/ω at the upper end
 * @param misfit how far the circuit is from the curve
 * @param validity whether the curve can be an impedance at all; null where too few bands have a complex value
 * @param follows whether it follows the curve; if not, nothing was written
 * @param rivals best circuits of other families, nearest first
 * @param notes what to know, a sentence each
 * @param file the subcircuit, or null when none was written
 */
public record CircuitOutcome(
        String microphone,
        String quantity,
        String family,
        String circuit,
        double lowestHz,
        double highestHz,
        List<Value> values,
        @Nullable Value dcResistance,
        Value topInductance,
        Misfit misfit,
        @Nullable Validity validity,
        boolean follows,
        List<Rival> rivals,
        List<String> notes,
        @Nullable Path file) {
    /** Copies the lists. */
    public CircuitOutcome {
        values = List.copyOf(values);
        rivals = List.copyOf(rivals);
        notes = List.copyOf(notes);
    }

    /**
     * A value with its 95 % interval.
     *
     * @param name its word in files
     * @param words the same for readers, without the unit
     * @param unit its unit, empty for a plain number
     * @param value the value
     * @param low lower end of the interval
     * @param high upper end
     * @param determined whether the curve fixes it; if not, the numbers only serve the netlist
     */
    public record Value(
            String name, String words, String unit, double value, double low, double high, boolean determined) {}

    /**
     * How far the circuit is from the curve, relative to |Z|.
     *
     * @param rmsPercent root mean square, percent
     * @param worstPercent greatest, percent
     * @param worstHz where, hertz
     * @param scatter χ² over degrees of freedom
     */
    public record Misfit(double rmsPercent, double worstPercent, double worstHz, double scatter) {}

    /**
     * The best circuit of another family.
     *
     * @param family the family
     * @param circuit its parts in words
     * @param behind by how much its criterion is worse
     */
    public record Rival(String family, String circuit, double behind) {}

    /**
     * The linear Kramers–Kronig test of the curve, {@link ohmprint.circuit.fit.KramersKronig}.
     *
     * @param passed whether chance explains what is left over
     * @param left what is left over
     * @param fromHz first midband of the stretch that stands out, hertz; NaN where none does
     * @param toHz its last
     */
    public record Validity(boolean passed, ChiSquare left, double fromHz, double toHz) {}
}
