package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.util.List;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.DatasetRenderingOrder;
import org.jfree.chart.plot.ValueMarker;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.DeviationRenderer;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.data.xy.XYDataset;
import org.jfree.data.xy.XYSeries;
import org.jfree.data.xy.XYSeriesCollection;
import org.jfree.data.xy.YIntervalSeries;
import org.jfree.data.xy.YIntervalSeriesCollection;

/** One plot to which lines are added, each in a look of its own; what is added later lies above. */
final class OverlayPlot {
    /** What stands out. */
    private static final Shape MARK = new Ellipse2D.Double(-2.5, -2.5, 5, 5);

    private static final float ALPHA = 0.18f;

    /** Points further apart than an octave are not joined. */
    private static final double WIDEST_STEP = 2.05;

    private final XYPlot plot;
    private final ChartTheme theme;
    private int count;

    OverlayPlot(ValueAxis axis, ChartTheme theme) {
        this.theme = theme;
        plot = new XYPlot(null, null, axis, null);
        PlotStyle.apply(plot, theme);
        plot.setDatasetRenderingOrder(DatasetRenderingOrder.FORWARD);
    }

    /** Lines with their range shaded. */
    void banded(YIntervalSeriesCollection lines, Color color, BasicStroke stroke) {
        DeviationRenderer renderer = new DeviationRenderer(true, false);
        PlotStyle.apply(renderer, color, stroke, MARK);
        renderer.setAlpha(ALPHA);
        add(lines, renderer);
    }

    /** Lines alone. */
    void plain(XYDataset lines, Color color, BasicStroke stroke) {
        XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(true, false);
        PlotStyle.apply(renderer, color, stroke, MARK);
        add(lines, renderer);
    }

    /** The marked ones of some points, without lines. */
    void marks(List<OverlayData.Point> points, Color color) {
        XYSeries marked = new XYSeries("marked");
        for (OverlayData.Point point : points) {
            if (point.marked()) {
                marked.add(point.hz(), point.value());
            }
        }
        XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(false, true);
        PlotStyle.apply(renderer, color, PlotStyle.line(1f), MARK);
        add(new XYSeriesCollection(marked), renderer);
    }

    /** A level line across the plot. */
    void level(double value) {
        ValueMarker marker = new ValueMarker(value);
        marker.setPaint(theme.frame());
        marker.setStroke(new BasicStroke(1.2f));
        plot.addRangeMarker(marker);
    }

    XYPlot finished() {
        return plot;
    }

    /** Points as lines, broken where neighbours are far apart. */
    static YIntervalSeriesCollection line(List<OverlayData.Point> points) {
        YIntervalSeriesCollection lines = new YIntervalSeriesCollection();
        YIntervalSeries line = new YIntervalSeries(0);
        double last = Double.NaN;
        for (OverlayData.Point p : points) {
            if (p.hz() > last * WIDEST_STEP) {
                lines.addSeries(line);
                line = new YIntervalSeries(lines.getSeriesCount());
            }
            line.add(p.hz(), p.value(), p.low(), p.high());
            last = p.hz();
        }
        lines.addSeries(line);
        return lines;
    }

    private void add(XYDataset lines, XYLineAndShapeRenderer renderer) {
        plot.setDataset(count, lines);
        plot.setRenderer(count, renderer);
        count++;
    }
}
