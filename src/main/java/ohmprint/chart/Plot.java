package ohmprint.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Rectangle2D;
import java.util.List;
import java.util.stream.IntStream;
import org.jfree.chart.ChartRenderingInfo;
import org.jfree.chart.annotations.XYBoxAnnotation;
import org.jfree.chart.annotations.XYLineAnnotation;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.CombinedDomainXYPlot;
import org.jfree.chart.plot.DatasetRenderingOrder;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.plot.ValueMarker;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.DeviationRenderer;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.ui.RectangleInsets;
import org.jfree.data.xy.XYDataset;
import org.jfree.data.xy.XYSeries;
import org.jfree.data.xy.XYSeriesCollection;
import org.jfree.data.xy.YIntervalSeriesCollection;
import org.jspecify.annotations.Nullable;

/**
 * One plot, to which lines, marks and boxes are added, each in a look of its own; what is added later lies above, and boxes
 * above all. Ground, frame and grid are alike in all plots.
 */
final class Plot {
    private static final BasicStroke HAIRLINE = new BasicStroke(0.8f);
    private static final double GAP_BETWEEN_PLOTS = 22;
    private static final Shape DOT = new Ellipse2D.Double(-1, -1, 2, 2);

    /** The plot of the library, for what only one picture has. */
    final XYPlot xy;

    private final ValueAxis range;
    private final ChartTheme theme;
    private int count;

    /** An empty plot over an axis of its own, or, with none, over that of {@link #stacked}. */
    Plot(@Nullable ValueAxis domain, ValueAxis range, ChartTheme theme) {
        this.xy = new XYPlot(null, domain, range, null);
        this.range = range;
        this.theme = theme;
        look(xy, theme);
        xy.setDatasetRenderingOrder(DatasetRenderingOrder.FORWARD);
    }

    /** The upright axis. */
    ValueAxis range() {
        return range;
    }

    /** Lines with their range shaded, and with marks at their values where there is a shape for them. */
    void banded(YIntervalSeriesCollection lines, Color color, BasicStroke stroke, float alpha, @Nullable Shape mark) {
        DeviationRenderer renderer = new DeviationRenderer(true, mark != null);
        renderer.setAlpha(alpha);
        add(lines, renderer, color, stroke, mark == null ? DOT : mark);
    }

    /** Lines alone. */
    void lines(XYDataset lines, Color color, BasicStroke stroke) {
        add(lines, new XYLineAndShapeRenderer(true, false), color, stroke, DOT);
    }

    /** Marks without lines, filled or as an outline. */
    void marks(XYSeries marks, Color color, BasicStroke outline, Shape shape, boolean filled) {
        XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(false, true);
        renderer.setDefaultShapesFilled(filled);
        add(new XYSeriesCollection(marks), renderer, color, outline, shape);
    }

    /** Values drawn in a way of their own, all series of them in one look. */
    void add(XYDataset values, XYLineAndShapeRenderer renderer, Color color, BasicStroke stroke, Shape mark) {
        renderer.setAutoPopulateSeriesPaint(false);
        renderer.setAutoPopulateSeriesFillPaint(false);
        renderer.setAutoPopulateSeriesStroke(false);
        renderer.setAutoPopulateSeriesShape(false);
        renderer.setDefaultPaint(color);
        renderer.setDefaultFillPaint(color);
        renderer.setDefaultStroke(stroke);
        renderer.setDefaultShape(mark);
        xy.setDataset(count, values);
        xy.setRenderer(count, renderer);
        count++;
    }

    /** A box between two frequencies and two values; what lies outside the axes is cut off by the frame. */
    void box(double fromHz, double toHz, double low, double high, BasicStroke stroke, Color outline, Color fill) {
        xy.addAnnotation(new XYBoxAnnotation(fromHz, low, toHz, high, stroke, outline, fill));
    }

    /** A straight line between two points. */
    void segment(double fromHz, double from, double toHz, double to, BasicStroke stroke, Color color) {
        xy.addAnnotation(new XYLineAnnotation(fromHz, from, toHz, to, stroke, color));
    }

    /** A level line across the plot, beneath what is in it. */
    void level(double value) {
        ValueMarker marker = new ValueMarker(value);
        marker.setPaint(theme.frame());
        marker.setStroke(new BasicStroke(1.2f));
        xy.addRangeMarker(marker);
    }

    /** Draws it alone; returns its frame. */
    Rectangle2D draw(Graphics2D g, Rectangle2D area) {
        PlotRenderingInfo info = new PlotRenderingInfo(new ChartRenderingInfo(null));
        xy.draw(g, area, null, null, info);
        return info.getDataArea();
    }

    /** Draws plots beneath each other over one axis, the first higher than the others; returns their frames. */
    static List<Rectangle2D> stacked(
            Graphics2D g, Rectangle2D area, ValueAxis domain, List<Plot> plots, ChartTheme theme) {
        CombinedDomainXYPlot all = new CombinedDomainXYPlot(domain);
        all.setGap(GAP_BETWEEN_PLOTS);
        look(all, theme);
        for (int i = 0; i < plots.size(); i++) {
            all.add(plots.get(i).xy, i == 0 ? 3 : 2);
        }
        PlotRenderingInfo info = new PlotRenderingInfo(new ChartRenderingInfo(null));
        all.draw(g, area, null, null, info);
        return IntStream.range(0, plots.size())
                .mapToObj(i -> info.getSubplotInfo(i).getDataArea())
                .toList();
    }

    private static void look(XYPlot plot, ChartTheme theme) {
        plot.setBackgroundPaint(theme.plot());
        plot.setOutlinePaint(theme.frame());
        plot.setOutlineStroke(new BasicStroke(1f));
        plot.setAxisOffset(RectangleInsets.ZERO_INSETS);
        plot.setInsets(RectangleInsets.ZERO_INSETS);
        plot.setDomainGridlinePaint(theme.grid());
        plot.setRangeGridlinePaint(theme.grid());
        plot.setDomainGridlineStroke(HAIRLINE);
        plot.setRangeGridlineStroke(HAIRLINE);
        plot.setDomainMinorGridlinesVisible(true);
        plot.setRangeMinorGridlinesVisible(true);
        plot.setDomainMinorGridlinePaint(theme.minorGrid());
        plot.setRangeMinorGridlinePaint(theme.minorGrid());
        plot.setDomainMinorGridlineStroke(HAIRLINE);
        plot.setRangeMinorGridlineStroke(HAIRLINE);
    }

    /** A full line, with round joins. */
    static BasicStroke full(float width) {
        return new BasicStroke(width, BasicStroke.CAP_ROUND, BasicStroke.JOIN_ROUND);
    }

    /** A line told from a full one without colour: lengths of dashes and gaps in turn; full without any. */
    static BasicStroke dashed(float width, float... lengths) {
        return lengths.length == 0
                ? full(width)
                : new BasicStroke(width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND, 10f, lengths, 0f);
    }
}
