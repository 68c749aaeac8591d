package ohmprint.report;

import java.awt.Graphics2D;
import java.util.List;

/** The key of curves laid over each other: which line is which, in columns, or what the range and the thin lines are. */
final class OverlayKey {
    /** From one entry to the one below it, in units. */
    static final double LEADING = 20;

    private static final int COLUMNS = 3;
    /** What the piece of a line and the gap to the next column take of an entry. */
    private static final double BESIDE_WORDS = 60;

    private static final int NAME_LINES = 2;
    /** More do not fit into the lines, however short they are. */
    private static final int MOST_NAMES = 60;

    private final OverlayData data;
    private final ChartTheme theme;

    OverlayKey(OverlayData data, ChartTheme theme) {
        this.data = data;
        this.theme = theme;
    }

    /** Draws it from x on, with the letters of the first row standing on y. */
    void draw(Graphics2D g, double x, double y, double width) {
        if (data.range() == null) {
            curves(g, x, y, width / COLUMNS);
        } else {
            range(g, x, y, width);
        }
    }

    /** Draws the names of the curves below each other, without what was found about their differences. */
    void names(Graphics2D g, double x, double y, double width) {
        for (int i = 0; i < data.curves().size(); i++) {
            curve(g, i, i == 0 ? " (compared with)" : "", x, y + i * LEADING, width);
        }
    }

    private void curves(Graphics2D g, double left, double top, double width) {
        for (int i = 0; i < data.curves().size(); i++) {
            double x = left + (i % COLUMNS) * width;
            int row = i / COLUMNS;
            boolean marked = data.curves().get(i).difference().stream().anyMatch(OverlayData.Point::marked);
            String found = i == 0 ? " (compared with)" : marked ? " (● differs)" : " (no significant difference)";
            curve(g, i, found, x, top + row * LEADING, width);
        }
    }

    private void curve(Graphics2D g, int i, String found, double x, double y, double width) {
        String words = TextFit.oneLine(data.curves().get(i).label() + found, Lettering.SMALL, width - BESIDE_WORDS);
        new KeyLine(theme.series(i), OverlayPlots.curve(i), true, words).draw(g, theme, x, y);
    }

    private void range(Graphics2D g, double x, double y, double width) {
        double column = width / COLUMNS;
        new KeyLine(theme.first(), OverlayPlots.MEDIAN, true, "median, 5 % to 95 % range").draw(g, theme, x, y);
        new KeyLine(OverlayPlots.faint(theme), OverlayPlots.SINGLE, false, "single units:")
                .draw(g, theme, x + column, y);
        Lettering.lines(g, theme.ink(), units(width), x, y + LEADING);
    }

    /** Names of the curves in two lines at most; those that find no room are counted. */
    private List<String> units(double room) {
        List<String> labels =
                data.curves().stream().map(OverlayData.Curve::label).toList();
        int shown = Math.min(labels.size(), MOST_NAMES);
        List<String> lines = TextFit.wrap(some(labels, shown), Lettering.SMALL, room, NAME_LINES + 1);
        while (lines.size() > NAME_LINES && shown > 1) {
            shown--;
            lines = TextFit.wrap(some(labels, shown), Lettering.SMALL, room, NAME_LINES + 1);
        }
        return lines.subList(0, Math.min(lines.size(), NAME_LINES));
    }

    private static String some(List<String> labels, int shown) {
        int rest = labels.size() - shown;
        return String.join(", ", labels.subList(0, shown)) + (rest > 0 ? " and " + rest + " more" : "");
    }
}
