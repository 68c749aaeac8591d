package ohmprint.curve;

import java.util.List;

/**
 * Impedance on a grid of bands, one {@link BandValue} per band in ascending frequency.
 *
 * @param bands the grid
 * @param values one value per band, same order and midbands as the grid
 * @param parallelWithInput true when the recording input was not known, so that the values are those of the source in
 *     parallel with that input, {@code Z ∥ Z_in}
 */
public record ImpedanceCurve(FrequencyBands bands, List<BandValue> values, boolean parallelWithInput) {
    /** Relative difference at which two frequencies still are the same midband. */
    private static final double SAME_FREQUENCY = 1e-6;

    /**
     * Checks that values and grid belong together.
     *
     * @throws IllegalArgumentException if sizes or midbands differ
     */
    public ImpedanceCurve {
        values = List.copyOf(values);
        if (values.size() != bands.size()) {
            throw new IllegalArgumentException(
                    "a curve on " + bands.size() + " bands needs as many values, not " + values.size());
        }
        for (int i = 0; i < values.size(); i++) {
            double f = values.get(i).frequencyHz();
            if (!(Math.abs(f / bands.midband(i) - 1) < SAME_FREQUENCY)) {
                throw new IllegalArgumentException(
                        "value " + i + " belongs to " + f + " Hz, the band to " + bands.midband(i) + " Hz");
            }
        }
    }

    /** What the ohms are, in words. */
    public String quantity() {
        return parallelWithInput ? "source impedance in parallel with the input" : "source impedance";
    }

    /** Number of bands with the given status. */
    public long count(BandStatus status) {
        return values.stream().filter(v -> v.status() == status).count();
    }
}
