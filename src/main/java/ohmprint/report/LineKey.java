package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.util.List;
import ohmprint.report.LinePlotData.Point;

/** The key of the straight-line pictures: which line is which, and what a ring says. */
final class LineKey {
    private final ChartTheme theme;

    LineKey(ChartTheme theme) {
        this.theme = theme;
    }

    /** Draws it in a row that begins at x, with the letters standing on y. */
    void draw(Graphics2D g, List<LinePlotData.Band> bands, double x, double y) {
        double next = entry(g, x, y, theme.first(), PlotStyle.line(1.8f), true, "real part, line 1 + R·y");
        next = entry(g, next, y, theme.second(), PlotStyle.dashed(1.8f), false, "imaginary part, line X·y");
        if (bands.stream().anyMatch(b -> b.points().stream().anyMatch(Point::outlying))) {
            g.setColor(theme.ink());
            g.setStroke(new BasicStroke(1.6f));
            g.draw(new Ellipse2D.Double(next, y - 12, 16, 16));
            Lettering.line(g, Lettering.SMALL, theme.ink(), "take that does not fit the others", next + 24, y);
        }
    }

    private double entry(
            Graphics2D g, double x, double y, Color color, BasicStroke stroke, boolean round, String words) {
        g.setColor(color);
        g.setStroke(stroke);
        g.draw(new Line2D.Double(x, y - 4, x + 36, y - 4));
        g.translate(x + 18, y - 4);
        g.fill(round ? LinePanel.ROUND : LinePanel.SQUARE);
        g.translate(-x - 18, -y + 4);
        Lettering.line(g, Lettering.SMALL, theme.ink(), words, x + 44, y);
        return x + 44 + TextFit.width(words, Lettering.SMALL) + 28;
    }
}
