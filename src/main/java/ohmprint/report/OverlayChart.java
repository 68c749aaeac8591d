package ohmprint.report;

import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.List;

/**
 * |Z| of several curves over frequency, and beneath it by how much each differs from the first, in percent; or thin lines
 * with the range that they span.
 */
public final class OverlayChart implements WholePicture {
    private static final double INDENT = Picture.MARGIN + 48;
    private static final double ROOM = Picture.WIDTH - INDENT - Picture.MARGIN;
    private static final Rectangle2D PLOTS = new Rectangle2D.Double(14, 78, Picture.WIDTH - 14 - Picture.MARGIN, 556);
    private static final double KEY_Y = 656;
    private static final double CAPTION_Y = 722;

    private final OverlayData data;
    private final ChartTheme theme;
    private final OverlayPlots plots;
    private final OverlayKey key;

    private OverlayChart(OverlayData data, ChartTheme theme) {
        this.data = data;
        this.theme = theme;
        this.plots = new OverlayPlots(data, theme);
        this.key = new OverlayKey(data, theme);
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
            return PAGE_HEIGHT + (int) (OverlayKey.LEADING * data.curves().size());
        }

        @Override
        public String title() {
            return OverlayChart.this.title();
        }

        @Override
        public void draw(Graphics2D g) {
            g.setColor(theme.ground());
            g.fill(new Rectangle2D.Double(0, 0, width(), height()));
            plots.draw(g, new Rectangle2D.Double(0, 0, PAGE_WIDTH - RIGHT, PAGE_HEIGHT - 10));
            key.names(g, LEFT, PAGE_HEIGHT + 10, PAGE_WIDTH - LEFT);
        }
    }

    @Override
    public String title() {
        return TextFit.oneLine(data.title(), Lettering.SUBTITLE, Picture.WIDTH);
    }

    @Override
    public void draw(Graphics2D g) {
        g.setColor(theme.ground());
        g.fill(new Rectangle2D.Double(0, 0, Picture.WIDTH, Picture.HEIGHT));
        Lettering.heading(g, theme, data.title(), data.subtitle());
        plots.draw(g, PLOTS);
        key.draw(g, INDENT, KEY_Y, ROOM);
        List<String> caption = TextFit.wrap(data.caption(), Lettering.SMALL, ROOM, 2);
        Lettering.lines(g, theme.mutedInk(), caption, INDENT, CAPTION_Y);
    }
}
