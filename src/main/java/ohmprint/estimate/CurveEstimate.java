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
 * @param residual what the model leaves over all bands, in units of the stated noise
 * @param degreesOfFreedom its complex degrees of freedom
 */
public record CurveEstimate(
        FrequencyBands bands, List<BandValue> values, double[] noiseScale, double residual, double degreesOfFreedom) {
    /** Copies list and array. */
    public CurveEstimate {
        values = List.copyOf(values);
        noiseScale = noiseScale.clone();
    }
}
