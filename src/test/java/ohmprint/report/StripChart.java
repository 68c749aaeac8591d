package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.DoubleStream;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.plot.ValueMarker;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.ui.Layer;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.data.xy.XYSeries;
import org.jfree.data.xy.XYSeriesCollection;

/** Values of many cells as marks in vertical strips, one strip per group, with limits: a plot of the validation page. */
public final class StripChart implements WholePicture {
    private static final double MARGIN = 26;
    private static final Rectangle2D PLOT = new Rectangle2D.Double(14, 104, 1160, 560);
    private static final double KEY_Y = 86;
    private static final double LEADING = 15;
    private static final double ROOM = 0.06;
    private static final double SPREAD = 0.12;
    private static final double APART = 0.36;
    private static final Font TITLE = ChartFonts.bold(20);
    private static final Font SUBTITLE = ChartFonts.plain(14);
    private static final Font SMALL = ChartFonts.plain(12);

    private final ChartTheme theme = ChartTheme.LIGHT;
    private final String title;
    private final String subtitle;
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
        this.title = title;
        this.subtitle = subtitle;
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
    public String title() {
        return title;
    }

    @Override
    public void draw(Graphics2D g) {
        g.setColor(theme.ground());
        g.fill(new Rectangle2D.Double(0, 0, Picture.WIDTH, Picture.HEIGHT));
        words(g, TITLE, theme.ink(), title, MARGIN, 38);
        words(
                g,
                SUBTITLE,
                theme.mutedInk(),
                TextFit.oneLine(subtitle, SUBTITLE, Picture.WIDTH - 2 * MARGIN),
                MARGIN,
                61);
        double x = MARGIN + 48;
        for (int s = 0; s < series.size(); s++) {
            g.setColor(colour(s));
            g.translate(x, KEY_Y - 4);
            g.fill(shape(s));
            g.translate(-x, -KEY_Y + 4);
            words(g, SMALL, theme.ink(), series.get(s), x + 12, KEY_Y);
            x += 40 + TextFit.width(series.get(s), SMALL);
        }
        ValueAxis across = Axes.linear("", -0.6, strips.size() - 0.4, theme);
        across.setTickLabelsVisible(false);
        across.setTickMarksVisible(false);
        PlotRenderingInfo info = new PlotRenderingInfo(null);
        plot(across).draw(g, PLOT, null, null, info);
        Rectangle2D area = info.getDataArea();
        for (int i = 0; i < names.size(); i++) {
            double middle = across.valueToJava2D(i, area, RectangleEdge.BOTTOM);
            String[] lines = names.get(i).split("\n");
            for (int l = 0; l < lines.length; l++) {
                words(
                        g,
                        SMALL,
                        theme.ink(),
                        lines[l],
                        middle - TextFit.width(lines[l], SMALL) / 2,
                        area.getMaxY() + 20 + l * LEADING);
            }
        }
    }

    private XYPlot plot(ValueAxis across) {
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
        XYPlot plot = new XYPlot(null, across, up, null);
        PlotStyle.apply(plot, theme);
        plot.setDomainGridlinesVisible(false);
        plot.setDomainMinorGridlinesVisible(false);
        for (double limit : limits) {
            plot.addRangeMarker(new ValueMarker(limit, theme.ink(), PlotStyle.dashed(1.2f)), Layer.BACKGROUND);
        }
        for (int s = 0; s < series.size(); s++) {
            XYSeries marks = new XYSeries(series.get(s));
            for (int i = 0; i < strips.size(); i++) {
                double[] values = strips.get(i)[s];
                for (int v = 0; v < values.length; v++) {
                    double aside = values.length < 2 ? 0 : SPREAD * (2.0 * v / (values.length - 1) - 1);
                    marks.add(i + aside + (series.size() < 2 ? 0 : APART * (s - 0.5)), values[v]);
                }
            }
            XYLineAndShapeRenderer renderer = new XYLineAndShapeRenderer(false, true);
            PlotStyle.apply(renderer, colour(s), new BasicStroke(1f), shape(s));
            plot.setDataset(s, new XYSeriesCollection(marks));
            plot.setRenderer(s, renderer);
        }
        return plot;
    }

    private Color colour(int s) {
        return s == 0 ? theme.first() : theme.second();
    }

    private static Shape shape(int s) {
        return s == 0 ? LinePanel.ROUND : LinePanel.SQUARE;
    }

    private static void words(Graphics2D g, Font font, Color color, String words, double x, double y) {
        g.setFont(font);
        g.setColor(color);
        g.drawString(words, (float) x, (float) y);
    }
}
