package ohmprint.circuit.fit;

import java.util.List;
import ohmprint.circuit.SourceModel;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/** The circuit that a curve speaks for, with its values. */
public final class FittedCircuit implements SourceModel {
    private final Fit fit;
    private final List<Estimate> values;
    private final @Nullable Estimate dcResistance;
    private final Estimate topInductance;
    private final Misfit misfit;
    private final List<Rival> rivals;
    private final double lowestHz;
    private final double highestHz;

    FittedCircuit(
            Fit fit,
            List<Estimate> values,
            @Nullable Estimate dcResistance,
            Estimate topInductance,
            Misfit misfit,
            List<Rival> rivals,
            double lowestHz,
            double highestHz) {
        this.fit = fit;
        this.values = List.copyOf(values);
        this.dcResistance = dcResistance;
        this.topInductance = topInductance;
        this.misfit = misfit;
        this.rivals = List.copyOf(rivals);
        this.lowestHz = lowestHz;
        this.highestHz = highestHz;
    }

    /**
     * How far the circuit is from the curve.
     *
     * @param rmsPercent root mean square of the relative deviation, percent
     * @param worstPercent greatest relative deviation, percent
     * @param worstHz where, hertz
     * @param scatter χ² over degrees of freedom: above about 1.5 the circuit misses more than the noise explains
     */
    public record Misfit(double rmsPercent, double worstPercent, double worstHz, double scatter) {}

    /**
     * The best circuit of a family.
     *
     * @param family the family
     * @param words its parts in words
     * @param behind by how much its criterion is worse than that of the circuit that was chosen
     */
    public record Rival(Family family, String words, double behind) {}

    /** What kind of microphone it is a circuit of. */
    public Family family() {
        return fit.candidate().family();
    }

    /** Its parts in words. */
    public String words() {
        return fit.candidate().words();
    }

    /** All values of its parts, in the order of the circuit. */
    public List<Estimate> values() {
        return values;
    }

    /** A value by its word, or null when the circuit has no such part. */
    public @Nullable Estimate value(String name) {
        return values.stream().filter(v -> v.name().equals(name)).findFirst().orElse(null);
    }

    /** Resistance towards 0 Hz, Ω; null behind a capacitor. */
    public @Nullable Estimate dcResistance() {
        return dcResistance;
    }

    /** X/ω at the upper end of the curve, henries; negative where a capacitance prevails. */
    public Estimate topInductance() {
        return topInductance;
    }

    /** How far it is from the curve. */
    public Misfit misfit() {
        return misfit;
    }

    /** The best circuits of the other families, nearest first. */
    public List<Rival> rivals() {
        return rivals;
    }

    /** First midband that was fitted, hertz. */
    public double lowestHz() {
        return lowestHz;
    }

    /** Last midband that was fitted, hertz. */
    public double highestHz() {
        return highestHz;
    }

    @Override
    public Complex impedance(double hz) {
        return fit.impedance(hz);
    }

    Part part() {
        return fit.candidate().part();
    }

    double[] parameters() {
        return fit.p().clone();
    }

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
        Estimate called(String other) {
            return new Estimate(other, unit, value, low, high, determined);
        }

        Estimate notDetermined() {
            return new Estimate(name, unit, value, low, high, false);
        }

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
}
