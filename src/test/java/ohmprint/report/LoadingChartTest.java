package ohmprint.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import javax.imageio.ImageIO;
import ohmprint.curve.PredictedValue;
import ohmprint.uncertainty.CoverageFactor;
import org.junit.jupiter.api.Test;

class LoadingChartTest {
    private static List<String> words(String name) throws Exception {
        return new SvgPicture(LoadingChart.of(PictureGallery.loads().get(name), ChartTheme.LIGHT)
                        .svg())
                .words();
    }

    @Test
    void everyLoadIsNamedAtBothPlotsAndInTheKey() throws Exception {
        List<String> words = words("loads-family");
        assertThat(words).contains("Level in dB re open circuit", "Change in dB re 1 kHz", "Frequency in Hz");
        for (String load : List.of("150Ω", "2.4kΩ", "40kΩ")) {
            assertThat(Collections.frequency(words, load)).as(load).isEqualTo(3);
        }
    }

    @Test
    void longNamesAreNumberedSoThatTheyStayApart() throws Exception {
        assertThat(words("loads-inputs"))
                .contains("1 · Rehearsal desk, channel", "600")
                .anyMatch(w -> w.startsWith("1 · Rehe") && w.endsWith("…"))
                .anyMatch(w -> w.startsWith("7 · Rehe") && w.endsWith("…"));
    }

    @Test
    void withoutOneKilohertzThereIsNoPlotOfChanges() throws Exception {
        assertThat(words("loads-high")).contains("Level in dB re open circuit").doesNotContain("Change in dB re 1 kHz");
    }

    @Test
    void aGapIsNotCrossed() {
        List<PredictedValue> values = List.of(
                PredictedValue.of(1, 0.1, 100),
                PredictedValue.of(1, 0.1, 110),
                PredictedValue.none(120),
                PredictedValue.of(2, 0.1, 130));
        var lines = LoadingSeries.lines(values);
        assertThat(lines.getSeriesCount()).isEqualTo(2);
        assertThat(lines.getItemCount(0)).isEqualTo(2);
        assertThat(lines.getYValue(1, 0)).isEqualTo(2);
        assertThat(lines.getEndYValue(0, 0)).isCloseTo(1 + 0.1 * CoverageFactor.NORMAL, within(1e-9));
    }

    @Test
    void aLossIsDrawnDownwards() {
        PredictedValue level = LoadingSeries.asLevels(List.of(PredictedValue.between(1, 3, 100)))
                .get(0);
        assertThat(level.low()).isEqualTo(-3);
        assertThat(level.high()).isEqualTo(-1);
    }

    @Test
    void labelsMoveApartAndStayInside() {
        assertThat(Spread.apart(new double[] {50, 51, Double.NaN, 52}, 14, 0, 80))
                .usingElementComparator((a, b) -> Double.compare(a, b))
                .containsExactly(50, 64, Double.NaN, 78);
        assertThat(Spread.apart(new double[] {75, 70}, 14, 0, 80)).containsExactly(80, 66);
    }

    @Test
    void tooManyLinesAreRefused() {
        LoadingPlotData.Line line =
                PictureGallery.loads().get("loads-thirds").lines().get(0);
        LoadingPlotData one = PictureGallery.loads().get("loads-thirds");
        assertThatThrownBy(() ->
                        new LoadingPlotData("x", "y", one.bands(), false, Collections.nCopies(11, line), List.of(), ""))
                .hasMessageContaining("holds 1 to 10 lines, not 11");
    }

    @Test
    void thePngIsTheSameEachTimeAndHoldsInk() throws Exception {
        LoadingChart chart = LoadingChart.of(PictureGallery.loads().get("loads-gaps"), ChartTheme.DARK);
        byte[] png = chart.png();
        BufferedImage image = ImageIO.read(new ByteArrayInputStream(png));
        int[] pixels = image.getRGB(0, 0, image.getWidth(), image.getHeight(), null, 0, image.getWidth());
        assertThat(image.getWidth()).isEqualTo(2400);
        int first = ChartTheme.DARK.first().getRGB();
        assertThat(Arrays.stream(pixels).filter(p -> p == first).count()).isGreaterThan(2000);
        assertThat(chart.png()).isEqualTo(png);
    }
}
