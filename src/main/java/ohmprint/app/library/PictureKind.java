package ohmprint.app.library;

import java.nio.charset.StandardCharsets;
import ohmprint.chart.ChartTheme;
import ohmprint.chart.OverlayChart;

/**
 * How a picture is wanted.
 *
 * @param svg SVG instead of PNG
 * @param dark light ink on a dark ground
 */
public record PictureKind(boolean svg, boolean dark) {
    /** The picture as the bytes of a file. */
    byte[] draw(OverlayChart.Data data) {
        OverlayChart chart = OverlayChart.of(data, dark ? ChartTheme.DARK : ChartTheme.LIGHT);
        return svg ? chart.svg().getBytes(StandardCharsets.UTF_8) : chart.png();
    }
}
