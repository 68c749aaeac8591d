package ohmprint.report;

import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.List;

/** What there is to say about loads, in words: facts, then the key with a line for each. */
final class LoadingPanel {
    private static final double PADDING = 16;
    private static final double LEADING = 16.5;
    private static final double PARAGRAPH = 9;
    private static final double SWATCH = 30;
    private static final Font HEAD = ChartFonts.plain(11);
    private static final Font BODY = ChartFonts.plain(12);
    private static final Font STRONG = ChartFonts.bold(12);
    private static final int MOST_LINES_EACH = 3;
    private static final int MOST_WITH_LONG_NAMES = 7;

    private final LoadingPlotData data;
    private final List<String> names;
    private final ChartTheme theme;
    private final LoadingColors colors;

    LoadingPanel(LoadingPlotData data, List<String> names, ChartTheme theme, LoadingColors colors) {
        this.data = data;
        this.names = names;
        this.theme = theme;
        this.colors = colors;
    }

    void draw(Graphics2D g, Rectangle2D area) {
        g.setColor(theme.panel());
        g.fill(area);
        double x = area.getX() + PADDING;
        double room = area.getWidth() - 2 * PADDING;
        double y = area.getY() + PADDING + 8;
        for (LoadingPlotData.Fact fact : data.facts()) {
            Lettering.line(g, HEAD, theme.mutedInk(), fact.head(), x, y);
            y += LEADING + 1;
            for (String text : TextFit.wrap(fact.words(), BODY, room, MOST_LINES_EACH)) {
                Lettering.line(g, BODY, theme.ink(), text, x, y);
                y += LEADING;
            }
            y += PARAGRAPH;
        }
        Lettering.line(g, HEAD, theme.mutedInk(), data.ordered() ? "Load" : "Inputs", x, y);
        y += LEADING + 2;
        for (int i = 0; i < data.lines().size(); i++) {
            LoadingPlotData.Line entry = data.lines().get(i);
            g.setColor(colors.color(i));
            g.setStroke(colors.stroke(i));
            g.draw(new Line2D.Double(x, y - 4, x + SWATCH, y - 4));
            double left = x + SWATCH + 8;
            for (String name : TextFit.wrap(names.get(i), STRONG, room - SWATCH - 8, nameLines())) {
                Lettering.line(g, STRONG, theme.ink(), name, left, y);
                y += LEADING - 1;
            }
            Lettering.line(g, BODY, theme.ink(), TextFit.oneLine(entry.words(), BODY, room - SWATCH - 8), left, y);
            y += LEADING + 2;
        }
    }

    /** Two lines for a name where there is room for them all. */
    private int nameLines() {
        return data.lines().size() <= MOST_WITH_LONG_NAMES ? 2 : 1;
    }
}
