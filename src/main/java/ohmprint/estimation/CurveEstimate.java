package ohmprint.estimation;

import java.util.List;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.FrequencyBands;
import org.jspecify.annotations.Nullable;

/**
 * What a solver states about a session.
 *
 * @param bands the grid
 * @param values one value per band
 * @param noiseScale per band, observed over stated noise variance (pooled over neighbouring bands)
 * @param covariance covariance of all bands with each other; null where the route does not tell it
 * @param consistency how well the takes agree; null where fewer than three tell
 */
public record CurveEstimate(
        FrequencyBands bands,
        List<BandValue> values,
        double[] noiseScale,
        @Nullable CurveCovariance covariance,
        @Nullable Consistency consistency) {
    /** Copies list and array. */
    public CurveEstimate {
        values = List.copyOf(values);
        noiseScale = noiseScale.clone();
    }
}
