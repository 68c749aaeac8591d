package ohmprint.app.library;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import ohmprint.app.StoredCurve;
import ohmprint.report.ChartTheme;
import ohmprint.report.OverlayChart;
import ohmprint.report.OverlayData;

/**
 * Curves laid over each other.
 *
 * @param curves the curves, the first being what the others are compared with
 * @param differences one for each further curve
 */
public record Comparison(List<StoredCurve> curves, List<CurveDifference> differences) {
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
            for (CurveDifference.Band b : differences.get(i).bands()) {
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
        OverlayChart chart = chart(kind.dark() ? ChartTheme.DARK : ChartTheme.LIGHT);
        return kind.svg() ? chart.svg().getBytes(StandardCharsets.UTF_8) : chart.png();
    }

    /** The picture, not drawn yet. */
    public OverlayChart chart(ChartTheme theme) {
        return OverlayChart.of(data(), theme);
    }

    private OverlayData data() {
        List<OverlayData.Curve> lines = new ArrayList<>();
        for (int i = 0; i < curves.size(); i++) {
            lines.add(new OverlayData.Curve(
                    curves.get(i).measurement().microphone().label(),
                    curves.get(i).measurement().curve(),
                    i == 0 ? List.of() : points(differences.get(i - 1))));
        }
        return new OverlayData(
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

    private static List<OverlayData.Point> points(CurveDifference difference) {
        return difference.bands().stream()
                .map(b -> new OverlayData.Point(b.hz(), b.percent(), b.lowPercent(), b.highPercent(), b.differs()))
                .toList();
    }
}
