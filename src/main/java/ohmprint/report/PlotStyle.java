package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Shape;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.AbstractRenderer;
import org.jfree.chart.ui.RectangleInsets;

/** What all plots look alike in. */
final class PlotStyle {
    private static final BasicStroke HAIRLINE = new BasicStroke(0.8f);

    private PlotStyle() {}

    /** Ground, frame and grid. */
    static void apply(XYPlot plot, ChartTheme theme) {
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

    /** One look for all series of a renderer. */
    static void apply(AbstractRenderer renderer, Color color, BasicStroke stroke, Shape marker) {
        renderer.setAutoPopulateSeriesPaint(false);
        renderer.setAutoPopulateSeriesFillPaint(false);
        renderer.setAutoPopulateSeriesStroke(false);
        renderer.setAutoPopulateSeriesShape(false);
        renderer.setDefaultPaint(color);
        renderer.setDefaultFillPaint(color);
        renderer.setDefaultStroke(stroke);
        renderer.setDefaultShape(marker);
    }

    /** A line through values, with round joins. */
    static BasicStroke line(float width) {
        return new BasicStroke(width, BasicStroke.CAP_ROUND, BasicStroke.JOIN_ROUND);
    }

    /** Lines told apart without colour: full, dashed, dotted, dash and dot; after six they begin again. */
    static BasicStroke series(int i, float width) {
        float[][] dashes = {null, {9f, 5f}, {2f, 4f}, {9f, 4f, 2f, 4f}, {16f, 5f}, {5f, 3f}};
        float[] dash = dashes[i % dashes.length];
        return dash == null
                ? line(width)
                : new BasicStroke(width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND, 10f, dash, 0f);
    }

    /** A dashed line, told from a full one without colour. */
    static BasicStroke dashed(float width) {
        return new BasicStroke(width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND, 10f, new float[] {7f, 4f}, 0f);
    }
}
