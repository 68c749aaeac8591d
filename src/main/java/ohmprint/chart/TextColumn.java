package ohmprint.chart;

import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.List;

/** Words beneath each other on a ground of their own beside the plots: small headings and the lines that belong to them. */
final class TextColumn {
    /** From one line to the next in units. */
    static final double LEADING = 16.5;

    /** Free space between two paragraphs in units. */
    static final double PARAGRAPH = 9;

    /** Letters of small headings. */
    static final Font HEAD = TextPainter.plain(11);

    /** Letters of what stands beneath them. */
    static final Font BODY = TextPainter.plain(12);

    /** Letters of what stands out. */
    static final Font STRONG = TextPainter.bold(12);

    private static final double PADDING = 16;

    private final Graphics2D g;
    private final ChartTheme theme;
    private final double x;
    private final double room;
    private final double bottom;
    private double y;

    /** An empty column that fills an area. */
    TextColumn(Graphics2D g, Rectangle2D area, ChartTheme theme) {
        this.g = g;
        this.theme = theme;
        g.setColor(theme.panel());
        g.fill(area);
        x = area.getX() + PADDING;
        room = area.getWidth() - 2 * PADDING;
        bottom = area.getMaxY() - PADDING;
        y = area.getY() + PADDING + 8;
    }

    double x() {
        return x;
    }

    /** What the next letters stand on. */
    double y() {
        return y;
    }

    /** Width for words. */
    double room() {
        return room;
    }

    /** Lowest line that letters may stand on. */
    double bottom() {
        return bottom;
    }

    /** Moves down. */
    void space(double units) {
        y += units;
    }

    /** One line, which must fit. */
    void line(Font font, Color color, String words) {
        TextPainter.line(g, font, color, words, x, y);
        y += LEADING;
    }

    /** A small heading. */
    void head(String words) {
        line(HEAD, theme.mutedInk(), words);
        y += 1;
    }

    /** Words in so many lines at most. */
    void text(String words, int most) {
        body(TextPainter.wrap(words, BODY, room, most));
    }

    /** Lines that were fitted already. */
    void body(List<String> lines) {
        lines.forEach(line -> line(BODY, theme.ink(), line));
    }

    /** A small heading and words in so many lines at most. */
    void paragraph(String head, String words, int most) {
        head(head);
        text(words, most);
        y += PARAGRAPH;
    }
}
