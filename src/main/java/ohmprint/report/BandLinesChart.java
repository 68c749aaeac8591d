package ohmprint.report;

import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.List;

/** One band of the straight-line picture by itself, as a small picture that stands beside others. */
public final class BandLinesChart implements Chart {
    private static final int WIDTH = 680;
    private static final int HEIGHT = 440;
    private static final double MARGIN = 10;
    private static final double KEY_Y = 22;
    private static final double TOP = 36;

    private final LinePlotData.Band band;
    private final ChartTheme theme;

    private BandLinesChart(LinePlotData.Band band, ChartTheme theme) {
        this.band = band;
        this.theme = theme;
    }

    /** The picture of a band; nothing is drawn yet. */
    public static BandLinesChart of(LinePlotData.Band band, ChartTheme theme) {
        return new BandLinesChart(band, theme);
    }

    @Override
    public int width() {
        return WIDTH;
    }

    @Override
    public int height() {
        return HEIGHT;
    }

    @Override
    public String title() {
        return "1/D against load admittance: takes that agree lie on the lines";
    }

    @Override
    public void draw(Graphics2D g) {
        g.setColor(theme.ground());
        g.fill(new Rectangle2D.Double(0, 0, WIDTH, HEIGHT));
        new LineKey(theme).draw(g, List.of(band), MARGIN, KEY_Y);
        new LinePanel(band, theme)
                .draw(g, new Rectangle2D.Double(MARGIN, TOP, WIDTH - 2 * MARGIN, HEIGHT - TOP - MARGIN));
    }
}
