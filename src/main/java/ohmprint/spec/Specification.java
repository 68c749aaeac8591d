package ohmprint.spec;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Within which limits an output impedance has to lie.
 *
 * @param name what it is called
 * @param notes text for the reader, or null
 * @param appliesTo the microphones it is meant for
 * @param rated |Z| at one frequency, or null
 * @param mask limits on |Z| in frequency ranges, perhaps none
 * @param resonance window for the frequency of the greatest |Z|, or null
 * @param reference a curve with limits to both sides, or null
 */
public record Specification(
        String name,
        @Nullable String notes,
        AppliesTo appliesTo,
        @Nullable RatedImpedance rated,
        List<MaskRange> mask,
        @Nullable ResonanceWindow resonance,
        @Nullable ReferenceCurve reference) {
    /**
     * Copies the mask.
     *
     * @throws IllegalArgumentException if nothing at all is required
     */
    public Specification {
        mask = List.copyOf(mask);
        if (rated == null && mask.isEmpty() && resonance == null && reference == null) {
            throw new IllegalArgumentException(
                    "the specification requires nothing; give a rated impedance, a mask, a resonance or a reference");
        }
    }

    /** How many requirements there are, the ranges of the mask together counting as one. */
    public int requirements() {
        return (rated == null ? 0 : 1)
                + (mask.isEmpty() ? 0 : 1)
                + (resonance == null ? 0 : 1)
                + (reference == null ? 0 : 1);
    }
}
