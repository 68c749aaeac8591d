package ohmprint.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.util.ArrayList;
import java.util.List;
import javax.imageio.ImageIO;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;

class OverlayChartTest {
    private static OverlayChart.Data data(boolean marked) {
        List<OverlayChart.Point> difference = new ArrayList<>();
        for (double hz = 40; hz < 16_000; hz *= 1.26) {
            difference.add(new OverlayChart.Point(hz, -7, -9, -5, marked && hz > 1000));
        }
        return new OverlayChart.Data(
                "Bench dynamic 2 against Bench dynamic 1",
                "Source impedance",
                List.of(
                        new OverlayChart.Curve(
                                "Bench dynamic 1",
                                SampleMeasurements.movingCoil().curve(),
                                List.of()),
                        new OverlayChart.Curve(
                                "Bench <dynamic> 2",
                                SampleMeasurements.thirdOctaves().curve(),
                                difference)),
                null,
                "All errors count as independent.");
    }

    @Test
    void bothPlotsHaveTheirAxesAndEachCurveItsEntry() {
        String svg = OverlayChart.of(data(true), ChartTheme.LIGHT).svg();

        assertThat(svg).contains("|Z| in Ω", "Difference in %", "Frequency in Hz", "20k");
        assertThat(svg).contains("Bench dynamic 1 (compared with)", "Bench &lt;dynamic&gt; 2 (● differs)");
        assertThat(svg).contains("All errors count as independent.");
        assertThat(OverlayChart.of(data(false), ChartTheme.DARK).svg()).contains("(no significant difference)");
    }

    /** Differences of −7 %, between −9 % and −5 %: the axis holds them and zero, and little more. */
    @Test
    void theAxisOfDifferencesIsAsLongAsTheyNeed() {
        String svg = OverlayChart.of(data(false), ChartTheme.LIGHT).svg();

        assertThat(svg).contains(">−8<", ">−2<", ">0<").doesNotContain(">−10<", ">2<");
    }

    @Test
    void theSameDataGiveTheSamePicture() {
        assertThat(OverlayChart.of(data(true), ChartTheme.LIGHT).svg())
                .isEqualTo(OverlayChart.of(data(true), ChartTheme.LIGHT).svg());
    }

    @Test
    void markedBandsLeaveMoreInk() throws Exception {
        int plain = colour(OverlayChart.of(data(false), ChartTheme.LIGHT).png(), 0xD55E00);
        int marked = colour(OverlayChart.of(data(true), ChartTheme.LIGHT).png(), 0xD55E00);

        assertThat(plain).isGreaterThan(1000);
        assertThat(marked).isGreaterThan(plain + 500);
    }

    private static int colour(byte[] png, int rgb) throws Exception {
        var image = ImageIO.read(new ByteArrayInputStream(png));
        assertThat(image.getWidth()).isEqualTo(2400);
        int count = 0;
        for (int y = 0; y < image.getHeight(); y++) {
            for (int x = 0; x < image.getWidth(); x++) {
                count += (image.getRGB(x, y) & 0xFFFFFF) == rgb ? 1 : 0;
            }
        }
        return count;
    }

    @Test
    void aRangeStandsBehindThinLinesWithoutAPlotOfDifferences() {
        OverlayChart.Data curves = data(false);
        List<OverlayChart.Point> range = List.of(
                new OverlayChart.Point(100, 200, 180, 230, false), new OverlayChart.Point(200, 210, 190, 240, false));
        String svg = OverlayChart.of(
                        new OverlayChart.Data(
                                "Spread", "Source impedance", curves.curves().subList(0, 1), range, "x"),
                        ChartTheme.LIGHT)
                .svg();

        assertThat(svg).contains("median, 5 % to 95 % range", "single units").doesNotContain("Difference in %");
        assertThatThrownBy(() -> OverlayChart.of(new OverlayChart.Data("", "", List.of(), null, ""), ChartTheme.LIGHT))
                .isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void theNamesOfSingleCurvesStandUnderARangeAndTheRestIsCounted() {
        List<OverlayChart.Point> range = List.of(
                new OverlayChart.Point(100, 200, 180, 230, false), new OverlayChart.Point(200, 210, 190, 240, false));
        List<OverlayChart.Curve> curves = new ArrayList<>();
        for (int n = 1; n <= 200; n++) {
            curves.add(new OverlayChart.Curve(
                    "Bench dynamic " + n, SampleMeasurements.thirdOctaves().curve(), List.of()));
        }
        OverlayChart.Data few = new OverlayChart.Data("Spread", "Source impedance", curves.subList(0, 3), range, "x");
        OverlayChart.Data many = new OverlayChart.Data("Spread", "Source impedance", curves, range, "x");

        assertThat(OverlayChart.of(few, ChartTheme.LIGHT).svg())
                .contains("Bench dynamic 1, Bench dynamic 2, Bench dynamic 3<")
                .doesNotContain(" more<");
        assertThat(OverlayChart.of(many, ChartTheme.DARK).svg())
                .contains("Bench dynamic 1, Bench dynamic 2, ")
                .containsPattern("Bench dynamic \\d+ and 1[78]\\d more<");
    }
}
