package ohmprint.report;

import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.util.List;

/** Words on a picture: a line of them, lines beneath each other, the heading. */
final class Lettering {
    /** Letters of what stands beneath the heading. */
    static final Font SUBTITLE = ChartFonts.plain(14);

    /** Letters of keys and captions. */
    static final Font SMALL = ChartFonts.plain(12);

    private static final Font TITLE = ChartFonts.bold(20);
    private static final double TITLE_Y = 38;
    private static final double SUBTITLE_Y = 61;
    private static final double SMALL_LEADING = 17;

    private Lettering() {}

    /** Words that begin at x, with the letters standing on y. */
    static void line(Graphics2D g, Font font, Color color, String words, double x, double y) {
        g.setFont(font);
        g.setColor(color);
        g.drawString(words, (float) x, (float) y);
    }

    /** Small lines beneath each other, the first standing on y. */
    static void lines(Graphics2D g, Color color, List<String> lines, double x, double y) {
        for (int i = 0; i < lines.size(); i++) {
            line(g, SMALL, color, lines.get(i), x, y + i * SMALL_LEADING);
        }
    }

    /** The head of a picture that stands for itself; what is too long for its width is shortened. */
    static void heading(Graphics2D g, ChartTheme theme, String title, String subtitle) {
        double room = Picture.WIDTH - 2 * Picture.MARGIN;
        line(g, TITLE, theme.ink(), TextFit.oneLine(title, TITLE, room), Picture.MARGIN, TITLE_Y);
        line(g, SUBTITLE, theme.mutedInk(), TextFit.oneLine(subtitle, SUBTITLE, room), Picture.MARGIN, SUBTITLE_Y);
    }
}
