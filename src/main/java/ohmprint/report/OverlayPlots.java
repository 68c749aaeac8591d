package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.List;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.CombinedDomainXYPlot;
import org.jfree.chart.plot.XYPlot;

/**
 * |Z| of several curves in ohms and, where they are compared, by how many percent each differs from the first beneath it,
 * over the same frequencies; or thin lines with the range that they span.
 */
final class OverlayPlots {
    /** How the middle of a range is drawn. */
    static final BasicStroke MEDIAN = PlotStyle.line(2f);

    /** How a curve behind a range is drawn. */
    static final BasicStroke SINGLE = PlotStyle.line(0.7f);

    private static final double GAP_BETWEEN_PLOTS = 22;
    /** Opacity of the single curves behind a range, of 255: there to be seen, not to compete with the middle. */
    private static final int FAINT = 170;

    private final OverlayData data;
    private final ChartTheme theme;

    OverlayPlots(OverlayData data, ChartTheme theme) {
        this.data = data;
        this.theme = theme;
    }

    /** How a curve that is compared is drawn. */
    static BasicStroke curve(int i) {
        return PlotStyle.series(i, 2f);
    }

    /** The colour of a curve behind a range. */
    static Color faint(ChartTheme theme) {
        Color ink = theme.mutedInk();
        return new Color(ink.getRed(), ink.getGreen(), ink.getBlue(), FAINT);
    }

    void draw(Graphics2D g, Rectangle2D area) {
        CurveRanges hertz = OverlayRanges.hertz(data);
        CombinedDomainXYPlot both =
                new CombinedDomainXYPlot(Axes.logarithmic("Frequency in Hz", hertz.low(), hertz.high(), theme));
        both.setGap(GAP_BETWEEN_PLOTS);
        PlotStyle.apply(both, theme);
        both.add(magnitudes(), 3);
        CurveRanges percent = OverlayRanges.percent(data);
        if (percent != null) {
            both.add(differences(percent), 2);
        }
        both.draw(g, area, null, null, null);
    }

    private XYPlot magnitudes() {
        CurveRanges ohms = OverlayRanges.ohms(data);
        ValueAxis axis = Axes.logarithmic("|Z| in Ω", ohms.low(), ohms.high(), theme);
        OverlayPlot plot = new OverlayPlot(axis, theme);
        List<OverlayData.Point> range = data.range();
        for (int i = 0; i < data.curves().size(); i++) {
            var lines = CurveRuns.magnitude(data.curves().get(i).curve(), ohms);
            if (range == null) {
                plot.banded(lines, theme.series(i), curve(i));
            } else {
                plot.plain(lines, faint(theme), SINGLE);
            }
        }
        if (range != null) {
            plot.banded(OverlayPlot.line(range), theme.first(), MEDIAN);
        }
        return plot.finished();
    }

    private XYPlot differences(CurveRanges percent) {
        ValueAxis axis = Axes.linear("Difference in %", percent.low(), percent.high(), theme);
        OverlayPlot plot = new OverlayPlot(axis, theme);
        plot.level(0);
        for (int i = 1; i < data.curves().size(); i++) {
            List<OverlayData.Point> difference = data.curves().get(i).difference();
            plot.banded(OverlayPlot.line(difference), theme.series(i), curve(i));
            plot.marks(difference, theme.series(i));
        }
        return plot.finished();
    }
}
