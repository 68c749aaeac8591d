package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;

/**
 * A line as the key of a picture shows it: a piece of it with its words beside it.
 *
 * @param color its colour
 * @param stroke its width and dashes
 * @param band whether it lies within a shaded band
 * @param words what it stands for
 */
record KeyLine(Color color, BasicStroke stroke, boolean band, String words) {
    private static final double LENGTH = 34;
    private static final double WORDS_AT = 42;

    /** Draws it from x on, with the letters standing on y; returns where the words end. */
    double draw(Graphics2D g, ChartTheme theme, double x, double y) {
        if (band) {
            g.setColor(ChartTheme.shade(color));
            g.fill(new Rectangle2D.Double(x, y - 11, LENGTH, 14));
        }
        g.setColor(color);
        g.setStroke(stroke);
        g.draw(new Line2D.Double(x + 1, y - 4, x + LENGTH - 1, y - 4));
        Lettering.line(g, Lettering.SMALL, theme.ink(), words, x + WORDS_AT, y);
        return x + WORDS_AT + TextFit.width(words, Lettering.SMALL);
    }
}
