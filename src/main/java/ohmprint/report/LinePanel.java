package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import ohmprint.report.LinePlotData.Point;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYErrorRenderer;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.data.xy.XYDataset;
import org.jfree.data.xy.XYSeries;
import org.jfree.data.xy.XYSeriesCollection;
import org.jfree.data.xy.YIntervalSeries;
import org.jfree.data.xy.YIntervalSeriesCollection;

/** One band of the straight-line picture. */
final class LinePanel {
    static final Shape ROUND = new Ellipse2D.Double(-3.5, -3.5, 7, 7);
    static final Shape SQUARE = new Rectangle2D.Double(-3.2, -3.2, 6.4, 6.4);
    private static final Shape RING = new Ellipse2D.Double(-8, -8, 16, 16);
    private static final Font HEAD = ChartFonts.plain(13);
    private static final Font SMALL = ChartFonts.plain(11);
    private static final double HEAD_HEIGHT = 20;
    private static final double LABEL_LEADING = 14;
    private static final double LABEL_SPACE = 8;
    private static final int MOST_LABEL_ROWS = 3;
    private static final double MARGIN = 0.07;

    private final LinePlotData.Band band;
    private final ChartTheme theme;

    LinePanel(LinePlotData.Band band, ChartTheme theme) {
        this.band = band;
        this.theme = theme;
    }

    void draw(Graphics2D g, Rectangle2D area) {
        g.setColor(theme.ink());
        g.setFont(HEAD);
        g.drawString(
                TextFit.oneLine(heading(), HEAD, area.getWidth()), (float) area.getX() + 4, (float) area.getY() + 13);

        double widest = band.points().stream()
                .mapToDouble(Point::admittanceMilliSiemens)
                .max()
                .orElseThrow();
        double room = widest > 0 ? widest * MARGIN : 1;
        ValueAxis admittance = Axes.linear("y in mS", -room, Math.max(widest, 0) + room, theme);
        XYPlot plot = plot(admittance);

        double strip = MOST_LABEL_ROWS * LABEL_LEADING;
        double top = area.getY() + HEAD_HEIGHT + strip;
        Rectangle2D below = new Rectangle2D.Double(area.getX(), top, area.getWidth(), area.getMaxY() - top);
        PlotRenderingInfo info = new PlotRenderingInfo(null);
        plot.draw(g, below, null, null, info);
        loads(g, admittance, info.getDataArea(), area);
    }

    private String heading() {
        String sign = band.reactanceOhm() < 0 ? " − j" : " + j";
        double hz = band.frequencyHz();
        String frequency = hz < 1000 ? Ticks.threeDigits(hz) + " Hz" : Ticks.threeDigits(hz / 1000) + " kHz";
        return frequency + ": Z = " + Ticks.threeDigits(band.resistanceOhm()) + sign
                + Ticks.threeDigits(Math.abs(band.reactanceOhm())) + " Ω";
    }

    private XYPlot plot(ValueAxis admittance) {
        double low = Math.min(0, Math.min(least(Point::real), least(Point::imaginary)));
        double high = Math.max(1, Math.max(most(Point::real), most(Point::imaginary)));
        double room = (high - low) * MARGIN;
        XYPlot plot = new XYPlot(null, admittance, Axes.linear("1/D", low - room, high + room, theme), null);
        PlotStyle.apply(plot, theme);
        double end = admittance.getUpperBound();
        line(plot, end, 1, band.resistanceOhm(), theme.first(), PlotStyle.line(1.8f));
        line(plot, end, 0, band.reactanceOhm(), theme.second(), PlotStyle.dashed(1.8f));
        points(plot, Point::real, theme.first(), ROUND);
        points(plot, Point::imaginary, theme.second(), SQUARE);
        rings(plot);
        return plot;
    }

    /** The fitted line from y = 0: intercept and slope (ohms) against millisiemens. */
    private static void line(XYPlot plot, double end, double intercept, double ohms, Color color, BasicStroke stroke) {
        XYSeries line = new XYSeries("line");
        line.add(0, intercept);
        line.add(end, intercept + ohms * end / 1000);
        XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(true, false);
        PlotStyle.apply(renderer, color, stroke, ROUND);
        add(plot, new XYSeriesCollection(line), renderer);
    }

    private void points(XYPlot plot, ToDoubleFunction<Point> part, Color color, Shape marker) {
        YIntervalSeries series = new YIntervalSeries("takes");
        for (Point p : band.points()) {
            double y = part.applyAsDouble(p);
            double half = p.u95() > 0 ? p.u95() : 0;
            series.add(p.admittanceMilliSiemens(), y, y - half, y + half);
        }
        YIntervalSeriesCollection dataset = new YIntervalSeriesCollection();
        dataset.addSeries(series);
        XYErrorRenderer renderer = new XYErrorRenderer();
        renderer.setDrawXError(false);
        renderer.setErrorStroke(new BasicStroke(1.2f));
        renderer.setCapLength(5);
        PlotStyle.apply(renderer, color, PlotStyle.line(1f), marker);
        add(plot, dataset, renderer);
    }

    private void rings(XYPlot plot) {
        XYSeries ringed = new XYSeries("outlying");
        for (Point p : band.points()) {
            if (p.outlying()) {
                ringed.add(p.admittanceMilliSiemens(), p.real());
                ringed.add(p.admittanceMilliSiemens(), p.imaginary());
            }
        }
        XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(false, true);
        renderer.setDefaultShapesFilled(false);
        PlotStyle.apply(renderer, theme.ink(), new BasicStroke(1.6f), RING);
        add(plot, new XYSeriesCollection(ringed), renderer);
    }

    private static void add(XYPlot plot, XYDataset dataset, XYLineAndShapeRenderer renderer) {
        int index = plot.getDataset(0) == null ? 0 : plot.getDatasetCount();
        plot.setDataset(index, dataset);
        plot.setRenderer(index, renderer);
    }

    private double least(ToDoubleFunction<Point> part) {
        return band.points().stream()
                .mapToDouble(p -> part.applyAsDouble(p) - Math.max(0, Double.isNaN(p.u95()) ? 0 : p.u95()))
                .min()
                .orElseThrow();
    }

    private double most(ToDoubleFunction<Point> part) {
        return band.points().stream()
                .mapToDouble(p -> part.applyAsDouble(p) + Math.max(0, Double.isNaN(p.u95()) ? 0 : p.u95()))
                .max()
                .orElseThrow();
    }

    /** Names of the loads above the frame, at their admittance, in as many rows as keep them apart. */
    private void loads(Graphics2D g, ValueAxis axis, Rectangle2D frame, Rectangle2D area) {
        double[] taken = new double[MOST_LABEL_ROWS];
        Arrays.fill(taken, area.getX());
        g.setFont(SMALL);
        for (Label label : labels()) {
            double x = axis.valueToJava2D(label.admittance(), frame, RectangleEdge.BOTTOM);
            double width = TextFit.width(label.text(), SMALL);
            double left = Math.min(Math.max(area.getX(), x - width / 2), area.getMaxX() - width);
            for (int row = 0; row < MOST_LABEL_ROWS; row++) {
                if (left >= taken[row]) {
                    double y = frame.getY() - 6 - row * LABEL_LEADING;
                    g.setColor(theme.frame());
                    g.setStroke(new BasicStroke(1f));
                    g.draw(new Line2D.Double(x, frame.getY() - 4, x, frame.getY()));
                    g.setColor(theme.ink());
                    g.drawString(label.text(), (float) left, (float) y);
                    taken[row] = left + width + LABEL_SPACE;
                    break;
                }
            }
        }
    }

    /** Loads in ascending admittance; takes of the same load share a label. */
    private List<Label> labels() {
        Map<String, Integer> count = new LinkedHashMap<>();
        Map<String, Point> first = new LinkedHashMap<>();
        List<Point> sorted = new ArrayList<>(band.points());
        sorted.sort(Comparator.comparingDouble(Point::admittanceMilliSiemens));
        for (Point p : sorted) {
            count.merge(p.load(), 1, Integer::sum);
            first.putIfAbsent(p.load(), p);
        }
        List<Label> labels = new ArrayList<>();
        first.forEach((load, p) -> {
            int n = count.getOrDefault(load, 1);
            labels.add(
                    new Label(TextFit.oneLine(n > 1 ? load + " ×" + n : load, SMALL, 120), p.admittanceMilliSiemens()));
        });
        return labels;
    }

    private record Label(String text, double admittance) {}
}
