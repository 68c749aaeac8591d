package ohmprint.estimate;

import java.util.List;
import ohmprint.curve.BandValue;
import ohmprint.curve.FrequencyBands;

/**
 * What a solver states about a session.
 *
 * @param bands the grid
 * @param values one value per band
 * @param noiseScale per band, observed over stated noise variance (pooled over neighbouring bands)
 */
public record CurveEstimate(FrequencyBands bands, List<BandValue> values, double[] noiseScale) {
    /** Copies list and array. */
    public CurveEstimate {
        values = List.copyOf(values);
        noiseScale = noiseScale.clone();
    }
}
