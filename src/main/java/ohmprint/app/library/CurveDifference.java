package ohmprint.app.library;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Where one curve differs from another.
 *
 * @param label the second curve's microphone
 * @param bands the bands in which both have a value, ascending
 * @param ranges runs of neighbouring bands that differ to the same side
 * @param assumed what was taken for granted about common errors, in words
 * @param different a warning that the curves are those of two microphones, or null
 */
public record CurveDifference(
        String label,
        List<Band> bands,
        List<Range> ranges,
        String assumed,
        @Nullable String different) {
    /** Copies the lists. */
    public CurveDifference {
        bands = List.copyOf(bands);
        ranges = List.copyOf(ranges);
    }

    /**
     * The difference in one band.
     *
     * @param hz midband in hertz
     * @param percent difference of |Z|, percent of the first
     * @param lowPercent lower end of its 95 % interval
     * @param highPercent upper end of its 95 % interval
     * @param differs whether it is significant
     */
    public record Band(double hz, double percent, double lowPercent, double highPercent, boolean differs) {}

    /**
     * A run of bands that differ.
     *
     * @param fromHz lowest midband in hertz
     * @param toHz highest midband in hertz
     * @param bands how many
     * @param largest the band with the largest difference
     */
    public record Range(double fromHz, double toHz, int bands, Band largest) {}

    /** How many bands differ. */
    public long count() {
        return bands.stream().filter(Band::differs).count();
    }

    /** The runs among bands of which {@code step} is the ratio of neighbours. */
    static List<Range> ranges(List<Band> bands, double step) {
        List<Range> ranges = new ArrayList<>();
        List<Band> run = new ArrayList<>();
        for (Band band : bands) {
            boolean goesOn = !run.isEmpty()
                    && band.differs()
                    && Math.signum(band.percent()) == Math.signum(run.get(0).percent())
                    && band.hz() < run.get(run.size() - 1).hz() * step * 1.01;
            if (!goesOn) {
                close(run, ranges);
            }
            if (band.differs()) {
                run.add(band);
            }
        }
        close(run, ranges);
        return ranges;
    }

    private static void close(List<Band> run, List<Range> ranges) {
        if (!run.isEmpty()) {
            Band largest = run.get(0);
            for (Band band : run) {
                largest = Math.abs(band.percent()) > Math.abs(largest.percent()) ? band : largest;
            }
            ranges.add(new Range(run.get(0).hz(), run.get(run.size() - 1).hz(), run.size(), largest));
            run.clear();
        }
    }
}
