package ohmprint.app.workspace;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.ToDoubleFunction;
import ohmprint.app.library.Comparison;
import org.jspecify.annotations.Nullable;

/**
 * Curves laid over each other, in plain values.
 *
 * @param curves the curves, the first being what the others are compared with
 * @param differences one for each further curve
 */
public record ComparisonView(List<CurveView> curves, List<Difference> differences) {
    /**
     * Where one curve differs from the first.
     *
     * @param between the names of the two
     * @param label the other's microphone
     * @param assumed what was taken for granted about common errors, in words
     * @param warning that the curves are those of two microphones, or null
     * @param bandsCompared how many bands both have a value in
     * @param bandsThatDiffer how many of them differ
     * @param ranges runs of neighbouring bands that differ to the same side
     * @param frequencyHz midbands in hertz
     * @param percent difference of |Z| in percent of the first
     * @param percentLow lower end of its 95 % interval
     * @param percentHigh upper end of its 95 % interval
     * @param significant whether the band differs
     */
    public record Difference(
            List<String> between,
            String label,
            String assumed,
            @Nullable String warning,
            int bandsCompared,
            int bandsThatDiffer,
            List<Range> ranges,
            double[] frequencyHz,
            double[] percent,
            double[] percentLow,
            double[] percentHigh,
            boolean[] significant) {
        static Difference of(String first, String other, Comparison.Difference d) {
            List<Comparison.Difference.Band> bands = d.bands();
            List<Range> ranges = new ArrayList<>();
            for (Comparison.Difference.Range r : d.ranges()) {
                Comparison.Difference.Band b = r.largest();
                ranges.add(new Range(
                        r.fromHz(),
                        r.toHz(),
                        r.bands(),
                        new Largest(b.hz(), b.percent(), b.lowPercent(), b.highPercent())));
            }
            boolean[] differs = new boolean[bands.size()];
            for (int i = 0; i < differs.length; i++) {
                differs[i] = bands.get(i).differs();
            }
            return new Difference(
                    List.of(first, other),
                    d.label(),
                    d.assumed(),
                    d.different(),
                    bands.size(),
                    (int) d.count(),
                    ranges,
                    each(bands, Comparison.Difference.Band::hz),
                    each(bands, Comparison.Difference.Band::percent),
                    each(bands, Comparison.Difference.Band::lowPercent),
                    each(bands, Comparison.Difference.Band::highPercent),
                    differs);
        }

        private static double[] each(
                List<Comparison.Difference.Band> bands, ToDoubleFunction<Comparison.Difference.Band> one) {
            double[] out = new double[bands.size()];
            Arrays.setAll(out, i -> one.applyAsDouble(bands.get(i)));
            return out;
        }
    }

    /**
     * A run of bands that differ.
     *
     * @param fromHz lowest midband in hertz
     * @param toHz highest midband in hertz
     * @param bands how many
     * @param largest the largest difference among them
     */
    public record Range(double fromHz, double toHz, int bands, Largest largest) {}

    /**
     * A difference in one band.
     *
     * @param hz midband in hertz
     * @param percent difference of |Z| in percent of the first
     * @param low lower end of its 95 % interval, percent
     * @param high upper end, percent
     */
    public record Largest(double hz, double percent, double low, double high) {}
}
