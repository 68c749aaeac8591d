package ohmprint.report;

import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.List;

/** Small pictures, one per band, of 1/D against load admittance: takes that agree lie on the straight lines. */
public final class LineChart implements WholePicture {
    private static final double TOP = 104;
    private static final double BOTTOM = 716;
    private static final double GAP = 22;
    private static final double KEY_Y = 86;

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
    public String title() {
        return TextFit.oneLine(data.label() + ": do the takes agree?", Lettering.SUBTITLE, Picture.WIDTH);
    }

    @Override
    public void draw(Graphics2D g) {
        g.setColor(theme.ground());
        g.fill(new Rectangle2D.Double(0, 0, Picture.WIDTH, Picture.HEIGHT));
        double room = Picture.WIDTH - 2 * Picture.MARGIN;
        Lettering.heading(g, theme, data.label(), "1/D against load admittance: takes that agree lie on the lines");
        new LineKey(theme).draw(g, data.bands(), Picture.MARGIN, KEY_Y);

        List<LinePlotData.Band> bands = data.bands();
        int columns = bands.size() == 4 ? 2 : Math.min(3, bands.size());
        int rows = (bands.size() + columns - 1) / columns;
        double width = (room - (columns - 1) * GAP) / columns;
        double height = (BOTTOM - TOP - (rows - 1) * GAP) / rows;
        for (int i = 0; i < bands.size(); i++) {
            double x = Picture.MARGIN + (i % columns) * (width + GAP);
            int row = i / columns;
            double y = TOP + row * (height + GAP);
            new LinePanel(bands.get(i), theme).draw(g, new Rectangle2D.Double(x, y, width, height));
        }
        Lettering.line(
                g,
                Lettering.SMALL,
                theme.mutedInk(),
                "D is what a take holds of the source, scaled so that the lines start at 1 and 0; the slopes are R and X."
                        + " Bars: 95 % of the noise.",
                Picture.MARGIN,
                744);
    }
}
