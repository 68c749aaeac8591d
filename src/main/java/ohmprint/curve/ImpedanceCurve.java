package ohmprint.curve;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Impedance on a grid of bands, one {@link BandValue} per band in ascending frequency.
 *
 * @param bands the grid
 * @param values one value per band, same order and midbands as the grid
 * @param parallelWithInput true when the recording input was not known, so that the values are those of the source in
 *     parallel with that input, {@code Z ∥ Z_in}
 * @param covariance covariance of all bands with each other; null where it is not known
 * @param side what was measured; of an input, {@code parallelWithInput} says that the generator was not known, so that the
 *     values are those of the input in series with it
 * @param consistency how well the takes agree; null where fewer than three tell, or it is not known
 */
public record ImpedanceCurve(
        FrequencyBands bands,
        List<BandValue> values,
        boolean parallelWithInput,
        @Nullable CurveCovariance covariance,
        Side side,
        @Nullable Consistency consistency) {
    /** The end of the line that was measured. */
    public enum Side {
        /** The output of a microphone. */
        SOURCE,
        /** The input of a preamplifier. */
        INPUT
    }

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
        if (covariance != null && covariance.size() != bands.size()) {
            throw new IllegalArgumentException("a curve on " + bands.size()
                    + " bands needs a covariance of as many bands, not " + covariance.size());
        }
        if (consistency != null && consistency.bands().size() != bands.size()) {
            throw new IllegalArgumentException(
                    "a curve on " + bands.size() + " bands needs the consistency of as many bands, not "
                            + consistency.bands().size());
        }
    }

    /** A curve of which only the covariance within each band is known. */
    public ImpedanceCurve(FrequencyBands bands, List<BandValue> values, boolean parallelWithInput) {
        this(bands, values, parallelWithInput, null);
    }

    /** A curve of a source. */
    public ImpedanceCurve(
            FrequencyBands bands,
            List<BandValue> values,
            boolean parallelWithInput,
            @Nullable CurveCovariance covariance) {
        this(bands, values, parallelWithInput, covariance, Side.SOURCE, null);
    }

    /**
     * Covariance of |Z| in bands {@code a} and {@code b} to first order, {@code eᵀ_a·C_ab·e_b} with
     * {@code e = (R, X)/|Z|}.
     *
     * @return it in Ω²; NaN where it is not known or a band holds no complex value. Source: JCGM 100:2008, F.1.2.3
     */
    public double magnitudeCovariance(int a, int b) {
        if (covariance == null) {
            return Double.NaN;
        }
        BandValue p = values.get(a);
        BandValue q = values.get(b);
        return covariance
                .between(a, b)
                .of(
                        p.resistanceOhm() / p.magnitudeOhm(),
                        p.reactanceOhm() / p.magnitudeOhm(),
                        q.resistanceOhm() / q.magnitudeOhm(),
                        q.reactanceOhm() / q.magnitudeOhm());
    }

    /** Covariance of ln|Z| in bands {@code a} and {@code b}: {@link #magnitudeCovariance} over |Z_a|·|Z_b|. */
    public double logMagnitudeCovariance(int a, int b) {
        return magnitudeCovariance(a, b)
                / (values.get(a).magnitudeOhm() * values.get(b).magnitudeOhm());
    }

    /** What the ohms are, in words. */
    public String quantity() {
        if (side == Side.INPUT) {
            return parallelWithInput ? "input impedance in series with the generator" : "input impedance";
        }
        return parallelWithInput ? "source impedance in parallel with the input" : "source impedance";
    }

    /** Number of bands with the given status. */
    public long count(BandStatus status) {
        return values.stream().filter(v -> v.status() == status).count();
    }
}
