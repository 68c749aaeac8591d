package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.List;

/** Small pictures, one per band, of 1/D against load admittance: takes that agree lie on the straight lines. */
public final class LineChart implements Chart {
    private static final double MARGIN = 26;
    private static final double TOP = 104;
    private static final double BOTTOM = 716;
    private static final double GAP = 22;
    private static final double KEY_Y = 86;
    private static final Font TITLE = ChartFonts.bold(20);
    private static final Font SUBTITLE = ChartFonts.plain(14);
    private static final Font SMALL = ChartFonts.plain(12);

    private final LinePlotData data;
    private final ChartTheme theme;

    private LineChart(LinePlotData data, ChartTheme theme) {
        this.data = data;
        this.theme = theme;
    }

    /** The picture of some bands; nothing is drawn yet. */
    public static LineChart of(LinePlotData data, ChartTheme theme) {
        return new LineChart(data, theme);
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
        return TextFit.oneLine(data.label() + ": do the takes agree?", SUBTITLE, Picture.WIDTH);
    }

    @Override
    public void draw(Graphics2D g) {
        g.setColor(theme.ground());
        g.fill(new Rectangle2D.Double(0, 0, Picture.WIDTH, Picture.HEIGHT));
        double room = Picture.WIDTH - 2 * MARGIN;
        text(g, TITLE, theme.ink(), TextFit.oneLine(data.label(), TITLE, room), MARGIN, 38);
        text(
                g,
                SUBTITLE,
                theme.mutedInk(),
                "1/D against load admittance: takes that agree lie on the lines",
                MARGIN,
                61);
        key(g);

        List<LinePlotData.Band> bands = data.bands();
        int columns = bands.size() == 4 ? 2 : Math.min(3, bands.size());
        int rows = (bands.size() + columns - 1) / columns;
        double width = (room - (columns - 1) * GAP) / columns;
        double height = (BOTTOM - TOP - (rows - 1) * GAP) / rows;
        for (int i = 0; i < bands.size(); i++) {
            double x = MARGIN + (i % columns) * (width + GAP);
            int row = i / columns;
            double y = TOP + row * (height + GAP);
            new LinePanel(bands.get(i), theme).draw(g, new Rectangle2D.Double(x, y, width, height));
        }
        text(
                g,
                SMALL,
                theme.mutedInk(),
                "D is what a take holds of the source, scaled so that the lines start at 1 and 0; the slopes are R and X."
                        + " Bars: 95 % of the noise.",
                MARGIN,
                744);
    }

    private void key(Graphics2D g) {
        double x = MARGIN;
        x = entry(g, x, theme.first(), PlotStyle.line(1.8f), true, "real part, line 1 + R·y");
        x = entry(g, x, theme.second(), PlotStyle.dashed(1.8f), false, "imaginary part, line X·y");
        boolean outlying =
                data.bands().stream().anyMatch(b -> b.points().stream().anyMatch(p -> p.outlying()));
        if (outlying) {
            g.setColor(theme.ink());
            g.setStroke(new BasicStroke(1.6f));
            g.draw(new Ellipse2D.Double(x, KEY_Y - 12, 16, 16));
            text(g, SMALL, theme.ink(), "take that does not fit the others", x + 24, KEY_Y);
        }
    }

    private double entry(Graphics2D g, double x, Color color, BasicStroke stroke, boolean round, String words) {
        g.setColor(color);
        g.setStroke(stroke);
        g.draw(new Line2D.Double(x, KEY_Y - 4, x + 36, KEY_Y - 4));
        g.translate(x + 18, KEY_Y - 4);
        g.fill(round ? LinePanel.ROUND : LinePanel.SQUARE);
        g.translate(-x - 18, -KEY_Y + 4);
        text(g, SMALL, theme.ink(), words, x + 44, KEY_Y);
        return x + 44 + TextFit.width(words, SMALL) + 28;
    }

    private static void text(Graphics2D g, Font font, Color color, String words, double x, double y) {
        g.setFont(font);
        g.setColor(color);
        g.drawString(words, (float) x, (float) y);
    }
}
