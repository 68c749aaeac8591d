package ohmprint.chart;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.util.List;
import javax.imageio.ImageIO;
import ohmprint.chart.SvgPicture.Path;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class ImpedanceChartTest {
    private static final String MAGNITUDE = "stroke:rgb(0,114,178)";
    private static final String PHASE = "stroke:rgb(213,94,0)";
    private static final String INTERVAL = "stroke:rgb(230,159,0)";

    @Test
    void axesAreLabelledAsOneReadsThem() throws Exception {
        List<String> words = svg(SampleMeasurements.movingCoil()).words();

        assertThat(words).containsSubsequence("20", "50", "100", "200", "500", "1k", "2k", "5k", "10k", "20k");
        assertThat(words).contains("Frequency in Hz", "|Z| in Ω", "∠Z in °", "−10", "300");
    }

    @Test
    void ohmsAreOneTwoFiveWhereTheyReachFar() throws Exception {
        List<String> words = svg(SampleMeasurements.wideRange()).words();

        int from = words.lastIndexOf("5");
        assertThat(words.subList(from, from + 12))
                .containsExactly("5", "10", "20", "50", "100", "200", "500", "1k", "2k", "5k", "10k", "20k");
    }

    @Test
    void wordsBesideThePlotTellVerdictRouteAndFindings() throws Exception {
        String words = svg(SampleMeasurements.ribbonWithGaps()).allWords();

        assertThat(words)
                .contains("Bench ribbon 7")
                .contains("Source impedance in parallel with the input, 1/12-octave bands")
                .contains("doubtful")
                .contains("stimulus: the session holds the stimulus and every take follows it")
                .contains("101 measured, 19 rejected")
                .contains("150 Ω, open (left out)")
                .contains("3000 Ω ± 5 % ∥ 470 pF")
                .contains("Findings (2)")
                .contains("low-snr · take-2.wav")
                .contains("lengthen the sweep and record it again")
                .contains("input-unknown");
    }

    @Test
    void theCaptionTellsWhatABandOfErrorMeans() throws Exception {
        String words = svg(SampleMeasurements.ribbonWithGaps()).allWords();

        assertThat(words)
                .contains("|Z| and 95 % band")
                .contains("common to all bands, so the curve may shift as a whole")
                .contains("Gaps are rejected bands");
        assertThat(svg(SampleMeasurements.movingCoil()).allWords()).doesNotContain("Gaps");
    }

    @Test
    void aLongListOfFindingsEndsWithHowManyAreLeft() throws Exception {
        SvgPicture picture = svg(SampleMeasurements.withFindings(12));
        long shown =
                picture.words().stream().filter(w -> w.contains(" · take-")).count();

        assertThat(shown).isBetween(3L, 11L);
        assertThat(picture.words()).contains("… and " + (12 - shown) + " more");
        assertThat(svg(SampleMeasurements.withFindings(0)).words()).contains("none");
    }

    @Test
    void noLineCrossesARejectedBand() throws Exception {
        ImpedanceCurve curve = SampleMeasurements.ribbonWithGaps().curve();
        SvgPicture picture = svg(SampleMeasurements.ribbonWithGaps());
        double left = picture.xOf("20");
        double perDecade = (picture.xOf("20k") - left) / 3;
        double from = left + perDecade * Math.log10(curve.bands().midband(40) / 20);
        double to = left + perDecade * Math.log10(curve.bands().lowerEdge(46) / 20);

        for (String colour : List.of(MAGNITUDE, PHASE)) {
            List<Path> lines = drawn(picture, colour);
            assertThat(lines).hasSize(3);
            assertThat(lines).allSatisfy(line -> {
                double first = line.points().get(0)[0];
                double last = line.points().get(line.points().size() - 1)[0];
                assertThat(last < from + 1 || first > to - 1).isTrue();
            });
            assertThat(lines)
                    .anySatisfy(line -> assertThat(line.points().get(0)[0]).isLessThan(from));
            assertThat(lines)
                    .anySatisfy(line -> assertThat(line.points().get(0)[0]).isGreaterThan(to));
        }
    }

    @Test
    void intervalsAreAreasWithoutALine() throws Exception {
        SvgPicture picture = svg(SampleMeasurements.intervalsOnly());

        assertThat(drawn(picture, MAGNITUDE)).isEmpty();
        assertThat(SampleMeasurements.intervalsOnly().curve().values()).hasSize(26);
        assertThat(ImpedanceChart.of(SampleMeasurements.intervalsOnly(), ChartTheme.LIGHT)
                        .svg()
                        .split(INTERVAL.replace("(", "\\(").replace(")", "\\)"), -1))
                .hasSize(1 + 25 + 1);
        assertThat(picture.allWords())
                .contains("bounds on |Z|, no value")
                .contains("Bounds that meet the frame are open there.")
                .doesNotContain("|Z| and 95 % band");
    }

    @Test
    void thePhaseIsLeftOutWithANoteWhereItsSignIsNotDetermined() throws Exception {
        SvgPicture picture = svg(SampleMeasurements.magnitudesOnly());

        assertThat(picture.allWords())
                .contains("No phase: these takes do not determine the sign of the reactance.")
                .doesNotContain("∠Z");
        assertThat(drawn(picture, PHASE)).isEmpty();
        assertThat(drawn(picture, MAGNITUDE)).isNotEmpty();
    }

    @Test
    void aLabelWithSignsOfMarkupStaysText() throws Exception {
        String label = "A <b> & \"c\" 'd' \u0001 7";
        SvgPicture picture = svg(SampleMeasurements.labelled(label));

        assertThat(picture.words()).contains("A <b> & \"c\" 'd' \uFFFD 7");
    }

    @Test
    void aLabelTooLongForTheWidthIsShortened() throws Exception {
        assertThat(svg(SampleMeasurements.labelled(PictureGallery.LONG_LABEL)).words())
                .contains(PictureGallery.LONG_LABEL);
        assertThat(svg(SampleMeasurements.labelled("Ribbon ".repeat(40)))
                        .words()
                        .get(0))
                .startsWith("Ribbon Ribbon")
                .endsWith("…");
    }

    @ParameterizedTest
    @EnumSource(ChartTheme.class)
    void thePngHasTwoPixelsPerUnitAndShowsTheCurve(ChartTheme theme) throws Exception {
        ImpedanceChart chart = ImpedanceChart.of(SampleMeasurements.movingCoil(), theme);
        byte[] png = chart.png();
        BufferedImage image = ImageIO.read(new ByteArrayInputStream(png));

        assertThat(image.getWidth()).isEqualTo(2400);
        assertThat(image.getHeight()).isEqualTo(1520);
        assertThat(image.getRGB(5, 5)).isEqualTo(theme.ground().getRGB());
        assertThat(count(image, theme.first().getRGB())).isGreaterThan(2000);
        assertThat(count(image, theme.second().getRGB())).isGreaterThan(1000);
        assertThat(chart.png()).isEqualTo(png);
    }

    @Test
    void thePngKeepsARejectedStretchFreeOfTheCurve() throws Exception {
        BufferedImage image = ImageIO.read(
                new ByteArrayInputStream(ImpedanceChart.of(SampleMeasurements.ribbonWithGaps(), ChartTheme.LIGHT)
                        .png()));
        SvgPicture picture = svg(SampleMeasurements.ribbonWithGaps());
        double perDecade = (picture.xOf("20k") - picture.xOf("20")) / 3;
        ImpedanceCurve curve = SampleMeasurements.ribbonWithGaps().curve();
        int gap = (int) Math.round(
                2 * (picture.xOf("20") + perDecade * Math.log10(curve.bands().midband(43) / 20)));
        int beside = (int) Math.round(
                2 * (picture.xOf("20") + perDecade * Math.log10(curve.bands().midband(30) / 20)));
        int blue = ChartTheme.LIGHT.first().getRGB();

        assertThat(count(image.getSubimage(gap - 6, 0, 12, 1300), blue)).isZero();
        assertThat(count(image.getSubimage(beside - 6, 0, 12, 1300), blue)).isPositive();
    }

    private static int count(BufferedImage image, int rgb) {
        int n = 0;
        for (int y = 0; y < image.getHeight(); y++) {
            for (int x = 0; x < image.getWidth(); x++) {
                n += image.getRGB(x, y) == rgb ? 1 : 0;
            }
        }
        return n;
    }

    private static SvgPicture svg(Measurement m) throws Exception {
        return new SvgPicture(ImpedanceChart.of(m, ChartTheme.LIGHT).svg());
    }

    private static List<Path> drawn(SvgPicture picture, String colour) {
        return picture.paths().stream().filter(p -> p.style().contains(colour)).toList();
    }
}
