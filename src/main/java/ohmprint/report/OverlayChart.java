package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.List;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.CombinedDomainXYPlot;
import org.jfree.chart.plot.XYPlot;

/**
 * |Z| of several curves over frequency, and beneath it by how much each differs from the first, in percent; or thin lines
 * with the range that they span.
 */
public final class OverlayChart implements Chart {
    private static final double MARGIN = 26;
    private static final Rectangle2D PLOTS = new Rectangle2D.Double(14, 78, Picture.WIDTH - 14 - MARGIN, 556);
    private static final double KEY_Y = 656;
    private static final double KEY_LEADING = 20;
    private static final double CAPTION_Y = 722;
    private static final double CAPTION_LEADING = 17;
    private static final double INDENT = MARGIN + 48;
    private static final double GAP_BETWEEN_PLOTS = 22;
    private static final Font TITLE = ChartFonts.bold(20);
    private static final Font SUBTITLE = ChartFonts.plain(14);
    private static final Font SMALL = ChartFonts.plain(12);
    private static final int COLUMNS = 3;
    private static final int NAME_LINES = 2;
    /** More do not fit into the lines, however short they are. */
    private static final int MOST_NAMES = 60;

    private static final float LINE = 2f;
    private static final float THIN = 0.7f;
    /** Opacity of the single curves behind a range, of 255: there to be seen, not to compete with the middle. */
    private static final int FAINT = 170;

    private final OverlayData data;
    private final ChartTheme theme;

    private OverlayChart(OverlayData data, ChartTheme theme) {
        this.data = data;
        this.theme = theme;
    }

    /** The picture of some curves, at least one; nothing is drawn yet. */
    public static OverlayChart of(OverlayData data, ChartTheme theme) {
        if (data.curves().isEmpty()) {
            throw new IllegalArgumentException("a picture of curves needs one curve or more; give some");
        }
        return new OverlayChart(data, theme);
    }

    /** The plots and the names of the curves alone, smaller, for a page that says the rest in its own words. */
    public Chart forPage() {
        return new OnPage();
    }

    /** The plots and their key on a page. */
    private final class OnPage implements Chart {
        private static final int PAGE_WIDTH = 760;
        private static final int PAGE_HEIGHT = 430;
        private static final double LEFT = 60;
        /** Half of the last label of the axis. */
        private static final int RIGHT = 12;

        @Override
        public int width() {
            return PAGE_WIDTH;
        }

        @Override
        public int height() {
            return PAGE_HEIGHT + (int) (KEY_LEADING * data.curves().size());
        }

        @Override
        public String title() {
            return OverlayChart.this.title();
        }

        @Override
        public void draw(Graphics2D g) {
            g.setColor(theme.ground());
            g.fill(new Rectangle2D.Double(0, 0, width(), height()));
            plots(g, new Rectangle2D.Double(0, 0, PAGE_WIDTH - RIGHT, PAGE_HEIGHT - 10));
            double y = PAGE_HEIGHT + 10;
            for (int i = 0; i < data.curves().size(); i++, y += KEY_LEADING) {
                String name = data.curves().get(i).label() + (i == 0 ? " (compared with)" : "");
                entry(g, LEFT, y, theme.series(i), PlotStyle.series(i, LINE), true, name, PAGE_WIDTH - LEFT - 60);
            }
        }
    }

    @Override
    public int width() {
        return Picture.WIDTH;
    }

    @Override
    public int height() {
        return Picture.HEIGHT;
    }

    @Override
    public String title() {
        return TextFit.oneLine(data.title(), SUBTITLE, Picture.WIDTH);
    }

    @Override
    public void draw(Graphics2D g) {
        g.setColor(theme.ground());
        g.fill(new Rectangle2D.Double(0, 0, Picture.WIDTH, Picture.HEIGHT));
        double room = Picture.WIDTH - 2 * MARGIN;
        text(g, TITLE, theme.ink(), TextFit.oneLine(data.title(), TITLE, room), MARGIN, 38);
        text(g, SUBTITLE, theme.mutedInk(), TextFit.oneLine(data.subtitle(), SUBTITLE, room), MARGIN, 61);
        plots(g, PLOTS);
        if (data.range() == null) {
            curveKey(g);
        } else {
            rangeKey(g);
        }
        double y = CAPTION_Y;
        for (String line : TextFit.wrap(data.caption(), SMALL, Picture.WIDTH - INDENT - MARGIN, 2)) {
            text(g, SMALL, theme.mutedInk(), line, INDENT, y);
            y += CAPTION_LEADING;
        }
    }

    private void plots(Graphics2D g, Rectangle2D area) {
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
                plot.banded(lines, theme.series(i), PlotStyle.series(i, LINE));
            } else {
                plot.plain(lines, faint(), PlotStyle.line(THIN));
            }
        }
        if (range != null) {
            plot.banded(OverlayPlot.line(range), theme.first(), PlotStyle.line(LINE));
        }
        return plot.finished();
    }

    private XYPlot differences(CurveRanges percent) {
        ValueAxis axis = Axes.linear("Difference in %", percent.low(), percent.high(), theme);
        OverlayPlot plot = new OverlayPlot(axis, theme);
        plot.level(0);
        for (int i = 1; i < data.curves().size(); i++) {
            List<OverlayData.Point> difference = data.curves().get(i).difference();
            plot.banded(OverlayPlot.line(difference), theme.series(i), PlotStyle.series(i, LINE));
            plot.marks(difference, theme.series(i));
        }
        return plot.finished();
    }

    private void curveKey(Graphics2D g) {
        double width = (Picture.WIDTH - INDENT - MARGIN) / COLUMNS;
        for (int i = 0; i < data.curves().size(); i++) {
            double x = INDENT + (i % COLUMNS) * width;
            int row = i / COLUMNS;
            double y = KEY_Y + row * KEY_LEADING;
            boolean marked = data.curves().get(i).difference().stream().anyMatch(OverlayData.Point::marked);
            String words = data.curves().get(i).label()
                    + (i == 0 ? " (compared with)" : marked ? " (● differs)" : " (no significant difference)");
            entry(g, x, y, theme.series(i), PlotStyle.series(i, LINE), true, words, width - 60);
        }
    }

    private void rangeKey(Graphics2D g) {
        double width = (Picture.WIDTH - INDENT - MARGIN) / COLUMNS;
        entry(g, INDENT, KEY_Y, theme.first(), PlotStyle.line(LINE), true, "median, 5 % to 95 % range", width - 60);
        entry(g, INDENT + width, KEY_Y, faint(), PlotStyle.line(THIN), false, "single units:", width - 60);
        double y = KEY_Y + KEY_LEADING;
        for (String line : names(Picture.WIDTH - INDENT - MARGIN)) {
            text(g, SMALL, theme.ink(), line, INDENT, y);
            y += CAPTION_LEADING;
        }
    }

    private Color faint() {
        Color ink = theme.mutedInk();
        return new Color(ink.getRed(), ink.getGreen(), ink.getBlue(), FAINT);
    }

    /** Names of the curves in two lines at most; those that find no room are counted. */
    private List<String> names(double room) {
        List<String> labels =
                data.curves().stream().map(OverlayData.Curve::label).toList();
        int shown = Math.min(labels.size(), MOST_NAMES);
        List<String> lines = TextFit.wrap(some(labels, shown), SMALL, room, NAME_LINES + 1);
        while (lines.size() > NAME_LINES && shown > 1) {
            shown--;
            lines = TextFit.wrap(some(labels, shown), SMALL, room, NAME_LINES + 1);
        }
        return lines.subList(0, Math.min(lines.size(), NAME_LINES));
    }

    private static String some(List<String> labels, int shown) {
        int rest = labels.size() - shown;
        return String.join(", ", labels.subList(0, shown)) + (rest > 0 ? " and " + rest + " more" : "");
    }

    private void entry(
            Graphics2D g,
            double x,
            double y,
            Color color,
            BasicStroke stroke,
            boolean band,
            String words,
            double room) {
        if (band) {
            g.setColor(ChartTheme.shade(color));
            g.fill(new Rectangle2D.Double(x, y - 11, 34, 14));
        }
        g.setColor(color);
        g.setStroke(stroke);
        g.draw(new Line2D.Double(x + 1, y - 4, x + 33, y - 4));
        text(g, SMALL, theme.ink(), TextFit.oneLine(words, SMALL, room), x + 42, y);
    }

    private static void text(Graphics2D g, Font font, Color color, String words, double x, double y) {
        g.setFont(font);
        g.setColor(color);
        g.drawString(words, (float) x, (float) y);
    }

    /** The mark of what stands out. */
    static Ellipse2D mark() {
        return new Ellipse2D.Double(-2.5, -2.5, 5, 5);
    }
}
