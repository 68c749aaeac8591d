package ohmprint.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import javax.imageio.ImageIO;
import ohmprint.chart.LineChart.Band;
import ohmprint.chart.LineChart.Point;
import org.junit.jupiter.api.Test;

class LineChartTest {
    @Test
    void everyBandHasItsFrequencyImpedanceAndLoads() throws Exception {
        SvgPicture picture = new SvgPicture(
                LineChart.of(PictureGallery.lines(6), ChartTheme.LIGHT).svg());

        assertThat(picture.words())
                .contains("50.1 Hz: Z = 200 − j8.71 Ω", "15.8 kHz: Z = 300 + j375 Ω", "y in mS", "1/D");
        assertThat(picture.words().stream().filter("open"::equals)).hasSize(6);
        assertThat(picture.words().stream().filter("150 Ω ×2"::equals)).hasSize(6);
        assertThat(picture.words()).contains("real part, line 1 + R·y", "imaginary part, line X·y");
    }

    @Test
    void aTakeThatDoesNotFitIsRinged() throws Exception {
        Point fits = new Point("150 Ω", 7, 2.4, 0.1, 0.02, false);
        Point off = new Point("330 Ω", 3, 1.9, 0.05, 0.02, true);
        LineChart.Data with =
                new LineChart.Data("Bench ribbon 7", List.of(new Band(1000, 200, 14, List.of(fits, off))));
        LineChart.Data without = new LineChart.Data("Bench ribbon 7", List.of(new Band(1000, 200, 14, List.of(fits))));

        assertThat(words(with)).contains("take that does not fit the others");
        assertThat(words(without)).doesNotContain("take that does not fit the others");
    }

    @Test
    void loadsCloseTogetherKeepTheirLabelsApart() throws Exception {
        List<Point> points = List.of(
                new Point("100 kΩ", 0.01, 1, 0, 0, false),
                new Point("47 kΩ", 0.02, 1, 0, 0, false),
                new Point("22 kΩ", 0.05, 1, 0, 0, false),
                new Point("100 Ω", 10, 3, 0, 0, false));

        assertThat(words(new LineChart.Data("x", List.of(new Band(1000, 200, 0, points)))))
                .contains("100 kΩ", "47 kΩ", "22 kΩ", "100 Ω");
    }

    @Test
    void thePngIsTheSameEachTimeAndNotBlank() throws Exception {
        LineChart chart = LineChart.of(PictureGallery.lines(3), ChartTheme.DARK);
        byte[] png = chart.png();
        BufferedImage image = ImageIO.read(new ByteArrayInputStream(png));
        int[] pixels = image.getRGB(0, 0, image.getWidth(), image.getHeight(), null, 0, image.getWidth());

        assertThat(image.getWidth()).isEqualTo(2400);
        assertThat(Arrays.stream(pixels)
                        .filter(p -> p == ChartTheme.DARK.first().getRGB())
                        .count())
                .isGreaterThan(1000);
        assertThat(chart.png()).isEqualTo(png);
    }

    @Test
    void oneBandByItselfHasItsKeyAndItsLoads() throws Exception {
        Point off = new Point("47 kΩ", 0.02, 1, 0, 0, true);
        Band band = new Band(1000, 200, 0, List.of(new Point("100 Ω", 10, 3, 0, 0, false), off));
        SvgPicture picture =
                new SvgPicture(LineChart.ofBand(band, ChartTheme.LIGHT).svg());

        assertThat(picture.words())
                .contains("100 Ω", "47 kΩ", "real part, line 1 + R·y", "take that does not fit the others", "y in mS");
        assertThat(picture.words()).anyMatch(w -> w.startsWith("1 kHz") || w.contains("1000 Hz"));
    }

    @Test
    void onlyOneToSixBandsFitAPicture() {
        Band band = PictureGallery.lines(1).bands().get(0);

        assertThatThrownBy(() -> new LineChart.Data("x", List.of())).hasMessageContaining("1 to 6 bands, not 0");
        assertThatThrownBy(() -> new LineChart.Data("x", Collections.nCopies(7, band)))
                .hasMessageContaining("1 to 6 bands, not 7");
        assertThatThrownBy(() -> new Band(1000, 1, 1, List.of())).hasMessageContaining("leave the band out");
    }

    private static List<String> words(LineChart.Data data) throws Exception {
        return new SvgPicture(LineChart.of(data, ChartTheme.LIGHT).svg()).words();
    }
}
