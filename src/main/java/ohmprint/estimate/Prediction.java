package ohmprint.estimate;

import java.util.Comparator;
import java.util.List;

/**
 * What is foretold of a session, band by band.
 *
 * @param bands one entry per band, in ascending frequency
 */
public record Prediction(List<PredictedBand> bands) {
    /** Copies the list. */
    public Prediction {
        bands = List.copyOf(bands);
    }

    /** The band with the largest relative uncertainty. */
    public PredictedBand worst() {
        return bands.stream()
                .max(Comparator.comparingDouble(PredictedBand::u95Percent))
                .orElseThrow();
    }

    /** Median over the bands of the relative 95 % uncertainty of |Z|, percent. */
    public double medianPercent() {
        double[] sorted =
                bands.stream().mapToDouble(PredictedBand::u95Percent).sorted().toArray();
        int half = sorted.length / 2;
        return sorted.length % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
    }
}
