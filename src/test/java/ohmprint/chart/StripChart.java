package ohmprint.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.DoubleStream;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.ValueMarker;
import org.jfree.chart.ui.Layer;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.data.xy.XYSeries;

/** Values of many cells as marks in vertical strips, one strip per group, with limits: a plot of the validation page. */
public final class StripChart extends StandaloneChart {
    private static final Rectangle2D PLOT = new Rectangle2D.Double(14, 104, 1160, 560);
    private static final double KEY_Y = 86;
    private static final double KEY_GAP = 28;
    private static final double LEADING = 15;
    private static final double ROOM = 0.06;
    private static final double SPREAD = 0.12;
    private static final double APART = 0.36;

    private final String unit;
    private final List<String> series;
    private final List<Double> limits;
    private final List<String> names = new ArrayList<>();
    private final List<double[][]> strips = new ArrayList<>();
    private boolean ratios;

    /**
     * An empty chart.
     *
     * @param title headline
     * @param subtitle what is shown
     * @param unit label of the axis
     * @param series names of the series, one or two
     * @param limits values to draw a dashed line at
     */
    public StripChart(String title, String subtitle, String unit, List<String> series, List<Double> limits) {
        super(ChartTheme.LIGHT, title, title, subtitle);
        this.unit = unit;
        this.series = List.copyOf(series);
        this.limits = List.copyOf(limits);
    }

    /**
     * Adds a strip.
     *
     * @param name its name, lines apart by line feeds
     * @param values one array per series
     */
    public void strip(String name, double[]... values) {
        names.add(name);
        strips.add(values);
    }

    /** Equal ratios get equal lengths of the axis, for values of different sizes. */
    public StripChart byRatios() {
        ratios = true;
        return this;
    }

    @Override
    void body(Graphics2D g) {
        KeyRow row = new KeyRow(g, theme, INDENT, KEY_Y, KEY_GAP);
        for (int s = 0; s < series.size(); s++) {
            double x = row.x();
            g.setColor(colour(s));
            g.translate(x, KEY_Y - 4);
            g.fill(shape(s));
            g.translate(-x, -KEY_Y + 4);
            row.words(12, series.get(s));
        }
        ValueAxis across = Axes.linear("", -0.6, strips.size() - 0.4, theme);
        across.setTickLabelsVisible(false);
        across.setTickMarksVisible(false);
        Rectangle2D area = plot(across).draw(g, PLOT);
        for (int i = 0; i < names.size(); i++) {
            double middle = across.valueToJava2D(i, area, RectangleEdge.BOTTOM);
            String[] lines = names.get(i).split("\n");
            for (int l = 0; l < lines.length; l++) {
                double left = middle - TextPainter.width(lines[l], TextPainter.SMALL) / 2;
                TextPainter.line(g, TextPainter.SMALL, theme.ink(), lines[l], left, area.getMaxY() + 20 + l * LEADING);
            }
        }
    }

    private Plot plot(ValueAxis across) {
        double[] all = DoubleStream.concat(
                        strips.stream().flatMap(java.util.Arrays::stream).flatMapToDouble(DoubleStream::of),
                        limits.stream().mapToDouble(v -> v))
                .filter(Double::isFinite)
                .sorted()
                .toArray();
        double low = all.length == 0 ? 0 : all[0];
        double high = all.length == 0 ? 1 : all[all.length - 1];
        double room = Math.max(ROOM * (high - low), 1e-6);
        ValueAxis up = ratios && low > 0
                ? Axes.logarithmic(unit, low / 1.3, high * 1.3, theme)
                : Axes.linear(unit, low - room, high + room, theme);
        Plot plot = new Plot(across, up, theme);
        plot.xy.setDomainGridlinesVisible(false);
        plot.xy.setDomainMinorGridlinesVisible(false);
        for (double limit : limits) {
            plot.xy.addRangeMarker(new ValueMarker(limit, theme.ink(), Plot.dashed(1.2f, 7f, 4f)), Layer.BACKGROUND);
        }
        for (int s = series.size() - 1; s >= 0; s--) {
            XYSeries marks = new XYSeries(series.get(s));
            for (int i = 0; i < strips.size(); i++) {
                double[] values = strips.get(i)[s];
                for (int v = 0; v < values.length; v++) {
                    double aside = values.length < 2 ? 0 : SPREAD * (2.0 * v / (values.length - 1) - 1);
                    marks.add(i + aside + (series.size() < 2 ? 0 : APART * (s - 0.5)), values[v]);
                }
            }
            plot.marks(marks, colour(s), new BasicStroke(1f), shape(s), true);
        }
        return plot;
    }

    private Color colour(int s) {
        return s == 0 ? theme.first() : theme.second();
    }

    private static Shape shape(int s) {
        return s == 0 ? LineChart.ROUND : LineChart.SQUARE;
    }
}
