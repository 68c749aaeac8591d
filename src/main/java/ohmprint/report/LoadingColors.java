package ohmprint.report;

import java.awt.BasicStroke;
import java.awt.Color;
import java.util.List;

/**
 * Colours and strokes of several loads. Loads in order run from the colour of what is wrong, the lowest, to that of the
 * first curve; others take the Okabe–Ito colours in turn, each round with another dash, so that nothing hangs on colour.
 */
final class LoadingColors {
    private static final float WIDTH = 1.9f;
    private static final List<float[]> DASHES =
            List.of(new float[] {}, new float[] {9f, 4f}, new float[] {2.5f, 4f}, new float[] {10f, 3f, 2.5f, 3f});

    private final ChartTheme theme;
    private final boolean ordered;
    private final int count;

    LoadingColors(ChartTheme theme, boolean ordered, int count) {
        this.theme = theme;
        this.ordered = ordered;
        this.count = count;
    }

    Color color(int line) {
        if (ordered) {
            return between(theme.second(), theme.first(), count == 1 ? 1 : line / (count - 1.0));
        }
        return theme.series(line);
    }

    BasicStroke stroke(int line) {
        float[] dash = ordered ? DASHES.get(0) : DASHES.get(line % DASHES.size());
        return dash.length == 0
                ? PlotStyle.line(WIDTH)
                : new BasicStroke(WIDTH, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND, 10f, dash, 0f);
    }

    private static Color between(Color a, Color b, double share) {
        return new Color(
                mix(a.getRed(), b.getRed(), share),
                mix(a.getGreen(), b.getGreen(), share),
                mix(a.getBlue(), b.getBlue(), share));
    }

    private static int mix(int a, int b, double share) {
        return (int) Math.round(a + (b - a) * share);
    }
}
