package ohmprint.app.library;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.app.StoredCurve;
import ohmprint.report.ChartTheme;
import ohmprint.report.OverlayChart;
import org.jspecify.annotations.Nullable;

/**
 * Curves laid over each other.
 *
 * @param curves the curves, the first being what the others are compared with
 * @param differences one for each further curve
 */
public record Comparison(List<StoredCurve> curves, List<Difference> differences) {
    /** Copies the lists. */
    public Comparison {
        curves = List.copyOf(curves);
        differences = List.copyOf(differences);
    }

    /** The differences as a table: one row for each further curve and band. */
    public String csv() {
        StringBuilder text = new StringBuilder(
                "curve,frequency_hz,difference_percent,difference_low_percent,difference_high_percent,differs\n");
        for (int i = 0; i < differences.size(); i++) {
            for (Difference.Band b : differences.get(i).bands()) {
                text.append(String.format(
                        Locale.ROOT,
                        "%d,%.9g,%.6g,%.6g,%.6g,%s%n".replace("%n", "\n"),
                        i + 2,
                        b.hz(),
                        b.percent(),
                        b.lowPercent(),
                        b.highPercent(),
                        b.differs() ? "yes" : "no"));
            }
        }
        return text.toString();
    }

    /** The picture as the bytes of a file. */
    public byte[] picture(PictureKind kind) {
        return kind.draw(data());
    }

    /** The picture, not drawn yet. */
    public OverlayChart chart(ChartTheme theme) {
        return OverlayChart.of(data(), theme);
    }

    private OverlayChart.Data data() {
        List<OverlayChart.Curve> lines = new ArrayList<>();
        for (int i = 0; i < curves.size(); i++) {
            lines.add(new OverlayChart.Curve(
                    curves.get(i).measurement().microphone().label(),
                    curves.get(i).measurement().curve(),
                    i == 0 ? List.of() : points(differences.get(i - 1))));
        }
        return new OverlayChart.Data(
                title(),
                "Source impedance, each with its 95 % band, and the difference from the first",
                lines,
                null,
                "Marked are bands that differ from the first curve more than the uncertainty of both explains, with no more"
                        + " than 5 % of the marks expected by chance. "
                        + differences.get(0).assumed());
    }

    private String title() {
        String others = differences.size() == 1 ? differences.get(0).label() : differences.size() + " others";
        return others + " against " + curves.get(0).measurement().microphone().label();
    }

    private static List<OverlayChart.Point> points(Difference difference) {
        return difference.bands().stream()
                .map(b -> new OverlayChart.Point(b.hz(), b.percent(), b.lowPercent(), b.highPercent(), b.differs()))
                .toList();
    }

    /**
     * Where one curve differs from another.
     *
     * @param label the second curve's microphone
     * @param bands the bands in which both have a value, ascending
     * @param ranges runs of neighbouring bands that differ to the same side
     * @param assumed what was taken for granted about common errors, in words
     * @param different a warning that the curves are those of two microphones, or null
     */
    public record Difference(
            String label,
            List<Band> bands,
            List<Range> ranges,
            String assumed,
            @Nullable String different) {
        /** Copies the lists. */
        public Difference {
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
}
