package ohmprint.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import javax.imageio.ImageIO;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.PredictedValue;
import ohmprint.uncertainty.CoverageFactor;
import org.junit.jupiter.api.Test;

class LoadingChartTest {
    private static final String FIRST = "rgb(0,114,178)";

    /** A unit of the picture, the size of a rounding of its text. */
    private static final double PIXEL = 1;

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
    void aGapIsNotCrossed() throws Exception {
        SvgPicture picture = picture(line(
                level(1, 0.1, 100),
                level(1, 0.1, 126),
                PredictedValue.none(158),
                level(2, 0.1, 200),
                level(2, 0.1, 251)));
        List<SvgPicture.Path> lines = drawn(picture, "stroke:" + FIRST);

        assertThat(lines).hasSize(2);
        assertThat(lines).allSatisfy(l -> assertThat(l.points()).hasSize(2));
        double[] ends = lines.stream()
                .flatMap(l -> l.points().stream())
                .mapToDouble(p -> p[0])
                .sorted()
                .toArray();
        assertThat(lines).anySatisfy(l -> assertThat(l.points().get(1)[0]).isEqualTo(ends[1]));
        assertThat(lines).anySatisfy(l -> assertThat(l.points().get(0)[0]).isEqualTo(ends[2]));
    }

    @Test
    void aLossIsDrawnDownwardsWithItsUncertainty() throws Exception {
        SvgPicture picture = picture(line(level(1, 0.1, 100), level(2, 0.1, 126), level(3, 0.1, 158)));
        double[][] points = drawn(picture, "stroke:" + FIRST).get(0).points().toArray(double[][]::new);
        double perDecibel = (picture.yOf("−3") - picture.yOf("0")) / 3;

        assertThat(points[0][1]).isCloseTo(picture.yOf("−1"), within(PIXEL));
        assertThat(points[2][1]).isCloseTo(picture.yOf("−3"), within(PIXEL));
        double[] band = drawn(picture, "fill:" + FIRST).get(0).points().stream()
                .filter(p -> Math.abs(p[0] - points[0][0]) < PIXEL)
                .mapToDouble(p -> p[1])
                .distinct()
                .sorted()
                .toArray();
        assertThat(band).hasSize(2);
        assertThat((band[1] - band[0]) / perDecibel).isCloseTo(2 * 0.1 * CoverageFactor.NORMAL, within(0.02));
    }

    @Test
    void aValueAloneIsALevelPiece() throws Exception {
        List<SvgPicture.Path> lines = drawn(picture(line(level(1, 0.1, 100))), "stroke:" + FIRST);

        assertThat(lines).hasSize(1);
        List<double[]> ends = lines.get(0).points();
        assertThat(ends).hasSize(2);
        assertThat(ends.get(1)[0]).isGreaterThan(ends.get(0)[0]);
        assertThat(ends.get(1)[1]).isEqualTo(ends.get(0)[1]);
    }

    @Test
    void labelsMoveApartAndStayInside() throws Exception {
        SvgPicture picture = picture(
                line(level(3, 0.1, 100)),
                line(level(3.01, 0.1, 100)),
                line(PredictedValue.none(100)),
                line(level(2.99, 0.1, 100)));
        List<Rectangle2D> labels = new ArrayList<>();
        for (int i : new int[] {0, 1, 3}) {
            assertThat(picture.words()).filteredOn(("load " + i)::equals).hasSize(2);
            labels.add(picture.texts().stream()
                    .filter(t -> t.words().equals("load " + i))
                    .findFirst()
                    .orElseThrow()
                    .box());
        }
        assertThat(picture.words()).filteredOn("load 2"::equals).hasSize(1);
        for (int i = 0; i < labels.size(); i++) {
            assertThat(labels.get(i).getMinY()).isGreaterThan(78);
            assertThat(labels.get(i).getMaxY()).isLessThan(672);
            for (Rectangle2D other : labels.subList(i + 1, labels.size())) {
                assertThat(labels.get(i).intersects(other)).isFalse();
            }
        }
    }

    @Test
    void tooManyLinesAreRefused() {
        LoadingChart.Line line =
                PictureGallery.loads().get("loads-thirds").lines().get(0);
        LoadingChart.Data one = PictureGallery.loads().get("loads-thirds");
        assertThatThrownBy(() -> new LoadingChart.Data(
                        "x", "y", one.bands(), false, Collections.nCopies(11, line), List.of(), ""))
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

    private static PredictedValue level(double lossDb, double u, double hz) {
        return PredictedValue.of(lossDb, u, hz);
    }

    private static List<PredictedValue> line(PredictedValue... losses) {
        return List.of(losses);
    }

    /** A picture of lines over octaves, without changes. */
    @SafeVarargs
    private static SvgPicture picture(List<PredictedValue>... losses) throws Exception {
        List<LoadingChart.Line> lines = new ArrayList<>();
        for (List<PredictedValue> values : losses) {
            lines.add(new LoadingChart.Line("load " + lines.size(), "", values, List.of(PredictedValue.none(100))));
        }
        LoadingChart.Data data =
                new LoadingChart.Data("x", "y", FrequencyBands.within(12, 20, 20_000), false, lines, List.of(), "");
        return new SvgPicture(LoadingChart.of(data, ChartTheme.LIGHT).svg());
    }

    private static List<SvgPicture.Path> drawn(SvgPicture picture, String style) {
        return picture.paths().stream().filter(p -> p.style().contains(style)).toList();
    }
}
