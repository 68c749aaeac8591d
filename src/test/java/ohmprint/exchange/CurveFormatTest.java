package ohmprint.exchange;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What holds for every form of a curve. */
class CurveFormatTest {
    /** Nine digits are written. */
    private static final double ROUNDING = 5e-9;

    @ParameterizedTest
    @EnumSource(CurveFormat.class)
    void whatIsWrittenIsReadBack(CurveFormat format) throws Exception {
        Measurement m = SampleMeasurements.movingCoil();
        List<Touchstone.Point> points = format.read(format.write(m), format.file());
        List<BandValue> expected =
                m.curve().values().stream().filter(BandValue::isMeasured).toList();

        assertThat(format.canHold(m.curve())).isTrue();
        assertThat(points).hasSameSizeAs(expected).hasSizeGreaterThan(100);
        for (int i = 0; i < points.size(); i++) {
            BandValue v = expected.get(i);
            assertThat(points.get(i).frequencyHz() / v.frequencyHz()).isCloseTo(1, within(ROUNDING));
            assertThat(points.get(i).resistanceOhm() / v.resistanceOhm()).isCloseTo(1, within(ROUNDING));
            assertThat(points.get(i).reactanceOhm() / v.reactanceOhm()).isCloseTo(1, within(ROUNDING));
        }
    }

    @ParameterizedTest
    @EnumSource(CurveFormat.class)
    void aCurveWithoutPhaseIsWrittenWhereTheFormCanHoldItOrRefused(CurveFormat format) throws Exception {
        Measurement m = SampleMeasurements.magnitudesOnly();
        if (format.canHold(m.curve())) {
            assertThat(format.read(format.write(m), format.file())).isEmpty();
        } else {
            assertThatThrownBy(() -> format.write(m)).isInstanceOf(IllegalArgumentException.class);
        }
    }

    @ParameterizedTest
    @EnumSource(CurveFormat.class)
    void whatIsOfAnotherFormIsRefusedWithTheNameOfTheFile(CurveFormat format) {
        Measurement m = SampleMeasurements.movingCoil();
        for (CurveFormat other : CurveFormat.values()) {
            if (other != format) {
                assertThatThrownBy(() -> format.read(other.write(m), "strange.txt"))
                        .as("%s as %s", other, format)
                        .isInstanceOf(ExchangeException.class)
                        .hasMessageStartingWith("strange.txt");
            }
        }
    }

    @Test
    void namesAndEndingsAreToldInTheirOrder() {
        assertThat(CurveFormat.titles()).isEqualTo("CSV, JSON and Touchstone");
        assertThat(CurveFormat.descriptions()).isEqualTo("table, JSON, Touchstone");
        assertThat(CurveFormat.extensions()).isEqualTo("csv, json, s1p");
        assertThat(CurveFormat.of("s1p")).contains(CurveFormat.TOUCHSTONE);
        assertThat(CurveFormat.of("txt")).isEmpty();
    }

    /** The page has a list of its own, because it is not compiled. */
    @Test
    void thePageOffersTheSameFormsInTheSameOrder() throws Exception {
        String script;
        try (InputStream in = CurveFormatTest.class.getResourceAsStream("/ohmprint/web/entry.js")) {
            script = new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
        Matcher list = Pattern.compile("const FILES = (\\[.*\\]);").matcher(script);
        assertThat(list.find()).isTrue();
        List<String[]> offered = Pattern.compile("\\[\"(\\w+)\", \"([^\"]+)\"]")
                .matcher(list.group(1))
                .results()
                .map(m -> new String[] {m.group(1), m.group(2)})
                .toList();
        CurveFormat[] formats = CurveFormat.values();

        assertThat(offered)
                .extracting(o -> o[0])
                .startsWith(Arrays.stream(formats).map(CurveFormat::extension).toArray(String[]::new));
        for (int i = 0; i < formats.length; i++) {
            assertThat(offered.get(i)[1]).startsWith(formats[i].title());
        }
    }
}
