package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import ohmprint.curve.PredictedValue;
import org.jfree.chart.ChartRenderingInfo;
import org.jfree.chart.annotations.XYBoxAnnotation;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.CombinedDomainXYPlot;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.DeviationRenderer;
import org.jfree.chart.ui.RectangleEdge;

/** Level re open circuit above, response change re 1 kHz beneath, a line for each load, its name at its end. */
public final class LoadingChart implements WholePicture {
    private static final Rectangle2D PLOTS = new Rectangle2D.Double(14, 78, 704, 594);
    private static final Rectangle2D PANEL = new Rectangle2D.Double(880, 78, Picture.WIDTH - 880 - Picture.MARGIN, 656);
    private static final double LABEL_ROOM = 152;
    private static final double NAME_ROOM = LABEL_ROOM - 18;
    private static final double LABEL_LEADING = 14;
    private static final double GAP_BETWEEN_PLOTS = 22;
    private static final double INDENT = Picture.MARGIN + 48;
    private static final double CAPTION_Y = 700;
    private static final int COARSE_FRACTION = 3;

    private final LoadingPlotData data;
    private final ChartTheme theme;
    private final LoadingColors colors;
    private final List<String> names;

    private LoadingChart(LoadingPlotData data, ChartTheme theme) {
        this.data = data;
        this.theme = theme;
        this.colors = new LoadingColors(theme, data.ordered(), data.lines().size());
        this.names = names(data.lines());
    }

    /** Names as they are, or numbered where one is too long for the margin, since the shortened ones may be alike. */
    private static List<String> names(List<LoadingPlotData.Line> lines) {
        List<String> names = lines.stream().map(LoadingPlotData.Line::name).toList();
        if (names.stream().allMatch(name -> TextFit.width(name, Lettering.SMALL) <= NAME_ROOM)) {
            return names;
        }
        return IntStream.range(0, names.size())
                .mapToObj(i -> (i + 1) + " · " + names.get(i))
                .toList();
    }

    /** The picture of some loads; nothing is drawn yet. */
    public static LoadingChart of(LoadingPlotData data, ChartTheme theme) {
        return new LoadingChart(data, theme);
    }

    @Override
    public String title() {
        return TextFit.oneLine(data.label() + ": " + data.heading(), Lettering.SUBTITLE, Picture.WIDTH);
    }

    @Override
    public void draw(Graphics2D g) {
        g.setColor(theme.ground());
        g.fill(new Rectangle2D.Double(0, 0, Picture.WIDTH, Picture.HEIGHT));
        Lettering.heading(g, theme, data.label(), data.heading());
        plots(g);
        double room = PLOTS.getMaxX() + LABEL_ROOM - INDENT;
        List<String> caption = TextFit.wrap(data.caption(), Lettering.SMALL, room, 3);
        Lettering.lines(g, theme.mutedInk(), caption, INDENT, CAPTION_Y);
        new LoadingPanel(data, names, theme, colors).draw(g, PANEL);
    }

    private void plots(Graphics2D g) {
        CurveRanges hertz = CurveRanges.hertz(data.bands());
        ValueAxis frequency = Axes.logarithmic("Frequency in Hz", hertz.low(), hertz.high(), theme);
        CombinedDomainXYPlot both = new CombinedDomainXYPlot(frequency);
        both.setGap(GAP_BETWEEN_PLOTS);
        PlotStyle.apply(both, theme);
        List<List<List<PredictedValue>>> sets = new ArrayList<>();
        sets.add(data.lines().stream()
                .map(l -> LoadingSeries.asLevels(l.losses()))
                .toList());
        List<List<PredictedValue>> changes =
                data.lines().stream().map(LoadingPlotData.Line::changes).toList();
        if (changes.stream().flatMap(List::stream).anyMatch(p -> p.isValue() || p.isBounded())) {
            sets.add(changes);
        }
        List<XYPlot> plots = new ArrayList<>();
        for (int i = 0; i < sets.size(); i++) {
            String label = i == 0 ? "Level in dB re open circuit" : "Change in dB re 1 kHz";
            plots.add(plot(sets.get(i), label));
            both.add(plots.get(i), i == 0 ? 3 : 2);
        }
        PlotRenderingInfo info = new PlotRenderingInfo(new ChartRenderingInfo(null));
        both.draw(g, PLOTS, null, null, info);
        for (int i = 0; i < plots.size(); i++) {
            labels(g, sets.get(i), plots.get(i), info.getSubplotInfo(i).getDataArea(), frequency);
        }
    }

    private XYPlot plot(List<List<PredictedValue>> lines, String label) {
        CurveRanges db = LoadingSeries.decibels(lines);
        XYPlot plot = new XYPlot(null, null, Axes.linear(label, db.low(), db.high(), theme), null);
        PlotStyle.apply(plot, theme);
        boolean marks = data.bands().fraction() <= COARSE_FRACTION;
        for (int i = 0; i < lines.size(); i++) {
            DeviationRenderer renderer = new DeviationRenderer(true, marks);
            PlotStyle.apply(renderer, colors.color(i), colors.stroke(i), new Ellipse2D.Double(-2.5, -2.5, 5, 5));
            renderer.setAlpha(0.16f);
            plot.setDataset(i, LoadingSeries.lines(lines.get(i)));
            plot.setRenderer(i, renderer);
            bounds(plot, lines.get(i), db, colors.color(i));
        }
        return plot;
    }

    /** Bounds reach from edge to edge of their band; what lies outside the axis is cut off by the frame. */
    private void bounds(XYPlot plot, List<PredictedValue> line, CurveRanges db, Color color) {
        double beyond = db.high() - db.low();
        for (PredictedValue p : line) {
            if (p.isBounded()) {
                double half = Math.pow(10, 0.15 / data.bands().fraction());
                plot.addAnnotation(new XYBoxAnnotation(
                        p.hz() / half,
                        Math.max(p.low(), db.low() - beyond),
                        p.hz() * half,
                        Math.min(p.high(), db.high() + beyond),
                        new BasicStroke(1f),
                        color,
                        ChartTheme.shade(color)));
            }
        }
    }

    /** The name of each line beside its last value, moved apart where lines end close together. */
    private void labels(
            Graphics2D g, List<List<PredictedValue>> lines, XYPlot plot, Rectangle2D area, ValueAxis frequency) {
        double[] wanted = new double[lines.size()];
        double[] ends = new double[lines.size()];
        for (int i = 0; i < lines.size(); i++) {
            PredictedValue last = last(lines.get(i));
            double value = last.isValue() ? last.value() : (last.least() + last.most()) / 2;
            double at = Math.min(
                    Math.max(value, plot.getRangeAxis().getLowerBound()),
                    plot.getRangeAxis().getUpperBound());
            wanted[i] = Double.isFinite(value)
                    ? plot.getRangeAxis().valueToJava2D(at, area, RectangleEdge.LEFT)
                    : Double.NaN;
            ends[i] = frequency.valueToJava2D(last.hz(), area, RectangleEdge.BOTTOM);
        }
        double[] placed = Spread.apart(wanted, LABEL_LEADING, area.getY() + 4, area.getMaxY() - 2);
        for (int i = 0; i < lines.size(); i++) {
            if (!Double.isNaN(wanted[i])) {
                double x = area.getMaxX();
                g.setColor(colors.color(i));
                g.setStroke(new BasicStroke(0.8f));
                g.draw(new Line2D.Double(Math.min(ends[i] + 2, x + 2), wanted[i], x + 4, wanted[i]));
                g.draw(new Line2D.Double(x + 4, wanted[i], x + 14, placed[i]));
                String name = TextFit.oneLine(names.get(i), Lettering.SMALL, NAME_ROOM);
                Lettering.line(g, Lettering.SMALL, theme.ink(), name, x + 17, placed[i] + 4);
            }
        }
    }

    /** The last band that says something; the first one where none does. */
    private static PredictedValue last(List<PredictedValue> line) {
        for (int i = line.size() - 1; i >= 0; i--) {
            if (line.get(i).isValue() || line.get(i).isBounded()) {
                return line.get(i);
            }
        }
        return line.get(0);
    }
}
