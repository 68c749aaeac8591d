package ohmprint.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;

/** A row of the key of a picture: pieces of what is drawn, each with its words behind it, one after the other. */
final class KeyRow {
    private static final double PIECE = 34;
    private static final double WORDS_BEHIND_PIECE = 42;

    private final Graphics2D g;
    private final ChartTheme theme;
    private final double y;
    private final double gap;
    private double x;

    /**
     * A row that begins at x, with the letters standing on y.
     *
     * @param gap room behind the words of each entry
     */
    KeyRow(Graphics2D g, ChartTheme theme, double x, double y, double gap) {
        this.g = g;
        this.theme = theme;
        this.x = x;
        this.y = y;
        this.gap = gap;
    }

    /** Where the next entry begins. */
    double x() {
        return x;
    }

    /** A line, in front of a shaded band where it lies within one, and its words. */
    void line(Color color, BasicStroke stroke, boolean band, String words) {
        if (band) {
            g.setColor(ChartTheme.shade(color));
            g.fill(new Rectangle2D.Double(x, y - 11, PIECE, 14));
        }
        g.setColor(color);
        g.setStroke(stroke);
        g.draw(new Line2D.Double(x + 1, y - 4, x + PIECE - 1, y - 4));
        words(WORDS_BEHIND_PIECE, words);
    }

    /** The words of what the caller has drawn at the place of the entry, so far behind its beginning. */
    void words(double behind, String words) {
        TextPainter.line(g, TextPainter.SMALL, theme.ink(), words, x + behind, y);
        x = x + behind + TextPainter.width(words, TextPainter.SMALL) + gap;
    }
}
