package ohmprint.estimate;

import java.util.Comparator;
import java.util.List;

/**
 * What is foretold of a session, band by band.
 *
 * @param bands one entry per band, in ascending frequency
 * @param seconds length of the sound that it holds for, seconds
 */
public record Prediction(List<PredictedBand> bands, double seconds) {
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

    /**
     * Length of the sound in seconds with which the worst band reaches a wanted relative 95 % uncertainty; infinite when no
     * length does.
     *
     * @param wantedPercent wanted uncertainty of |Z| in percent, positive
     */
    public double secondsFor(double wantedPercent) {
        return bands.stream()
                .mapToDouble(b -> seconds * b.longerBy(wantedPercent))
                .max()
                .orElseThrow();
    }
}
