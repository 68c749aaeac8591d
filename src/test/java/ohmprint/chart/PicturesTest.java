package ohmprint.chart;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import ohmprint.chart.SvgPicture.Text;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** What holds for every picture. */
@Tag("slow")
class PicturesTest {
    static Stream<Arguments> pictures() {
        Stream<Arguments> curves = PictureGallery.measurements().entrySet().stream()
                .flatMap(e -> Stream.of(ChartTheme.values())
                        .map(t -> Arguments.of(
                                e.getKey() + " " + t,
                                ImpedanceChart.of(e.getValue(), t).svg())));
        Stream<Arguments> lines = IntStream.rangeClosed(1, 6)
                .mapToObj(n -> Arguments.of(
                        n + " bands",
                        LineChart.of(PictureGallery.lines(n), ChartTheme.LIGHT).svg()));
        Stream<Arguments> loads = PictureGallery.loads().entrySet().stream()
                .flatMap(e -> Stream.of(ChartTheme.values())
                        .map(t -> Arguments.of(
                                e.getKey() + " " + t,
                                LoadingChart.of(e.getValue(), t).svg())));
        return Stream.of(curves, lines, loads).flatMap(s -> s);
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("pictures")
    void textNeitherOverlapsNorLeavesThePicture(String name, String svg) throws Exception {
        List<Text> texts = new SvgPicture(svg).texts();
        List<String> faults = new ArrayList<>();
        Rectangle2D whole = new Rectangle2D.Double(4, 4, StandaloneChart.WIDTH - 8, StandaloneChart.HEIGHT - 8);
        for (int i = 0; i < texts.size(); i++) {
            Text a = texts.get(i);
            if (!whole.contains(a.box())) {
                faults.add("\"" + a.words() + "\" leaves the picture");
            }
            for (Text b : texts.subList(i + 1, texts.size())) {
                if (a.box().intersects(b.box())) {
                    faults.add("\"" + a.words() + "\" overlaps \"" + b.words() + "\"");
                }
            }
        }

        assertThat(texts).hasSizeGreaterThan(15);
        assertThat(faults).isEmpty();
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("pictures")
    void noCoordinateIsMissingOrOverlyLong(String name, String svg) {
        assertThat(svg)
                .doesNotContain("NaN")
                .doesNotContain("Infinity")
                .doesNotContainPattern("[ ,LM'][-0-9]+\\.\\d{3,}")
                .doesNotContainPattern("\\dE-?\\d");
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("pictures")
    void everyCharacterHasAGlyphInTheBundledFont(String name, String svg) throws Exception {
        for (String words : new SvgPicture(svg).words()) {
            assertThat(TextPainter.plain(12).canDisplayUpTo(words)).as(words).isEqualTo(-1);
        }
        assertThat(TextPainter.plain(12).canDisplayUpTo("Ω°±∠µ−√≤×·∥…")).isEqualTo(-1);
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("pictures")
    void theLocaleAndASecondDrawingChangeNothing(String name, String svg) {
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));

            assertThat(pictures().filter(a -> a.get()[0].equals(name)).map(a -> a.get()[1]))
                    .containsExactly(svg);
        } finally {
            Locale.setDefault(before);
        }
    }
}
