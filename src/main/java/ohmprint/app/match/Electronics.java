package ohmprint.app.match;

import java.util.Locale;
import ohmprint.circuit.InputNoise;
import org.jspecify.annotations.Nullable;

/**
 * What is known of an amplifier besides its input impedance.
 *
 * @param gainDb its greatest gain in decibels, or null
 * @param einDbu equivalent input noise in dBu, unweighted, 20 Hz to 20 kHz, or null
 * @param einSourceOhm resistor at the input that the equivalent input noise was measured with, ohms, 0 for a short; null
 *     for 150 Ω, as is usual (common practice, no source)
 * @param voltageNoiseNv voltage noise in nV/√Hz, or null
 * @param currentNoisePa current noise in pA/√Hz, or null
 */
public record Electronics(
        @Nullable Double gainDb,
        @Nullable Double einDbu,
        @Nullable Double einSourceOhm,
        @Nullable Double voltageNoiseNv,
        @Nullable Double currentNoisePa) {
    /** Nothing is known. */
    public static final Electronics UNKNOWN = new Electronics(null, null, null, null, null);

    /** Resistor in ohms that equivalent input noise counts as measured with unless another is stated. */
    public static final double USUAL_EIN_SOURCE_OHM = 150;

    private static final double NANO = 1e-9;
    private static final double PICO = 1e-12;

    /**
     * Its noise.
     *
     * @throws IllegalArgumentException if noise is stated in two ways, or lower than physics allows
     */
    InputNoise noise(double kelvin) {
        double current = currentNoisePa == null ? 0 : currentNoisePa * PICO;
        if (einDbu != null && voltageNoiseNv != null) {
            throw new IllegalArgumentException(
                    "noise is given both as equivalent input noise and as voltage noise; keep one of the two");
        }
        if (einDbu != null) {
            return InputNoise.ofEquivalent(einDbu, einSource(), current, kelvin);
        }
        return new InputNoise(voltageNoiseNv == null ? Double.NaN : voltageNoiseNv * NANO, current);
    }

    /** The resistor that the equivalent input noise counts as measured with, in ohms. */
    private double einSource() {
        return einSourceOhm == null ? USUAL_EIN_SOURCE_OHM : einSourceOhm;
    }

    /** The equivalent input noise with the resistor that it counts as measured with, or null when it is not stated. */
    public @Nullable String einInWords() {
        if (einDbu == null) {
            return null;
        }
        double ohm = einSource();
        return String.format(Locale.ROOT, "%.1f dBu with ", einDbu)
                + (ohm == 0 ? "a shorted input" : String.format(Locale.ROOT, "a source of %.0f Ω", ohm))
                + (einSourceOhm == null ? " (assumed)" : "");
    }
}
