package ohmprint.exchange;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ChiSquare;
import ohmprint.impedance.Consistency;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What is read back is the measurement that was written; any other text is a fault with its place. */
class CurveJsonTest {
    static Stream<Measurement> samples() {
        return Stream.of(
                SampleMeasurements.movingCoil(),
                SampleMeasurements.ribbonWithGaps(),
                SampleMeasurements.magnitudesOnly(),
                SampleMeasurements.intervalsOnly(),
                SampleMeasurements.magnitudesWithOutlines(),
                SampleMeasurements.wideRange(),
                SampleMeasurements.withSharedCauses(),
                SampleMeasurements.withFindings(12));
    }

    @ParameterizedTest
    @MethodSource("samples")
    void aMeasurementReadBackIsTheSame(Measurement m) throws Exception {
        Measurement back = CurveJson.read(CurveJson.write(m), "curve.json");

        // degrees and back cost a rounding of the last digit; everything else is exact
        assertThat(back)
                .usingRecursiveComparison()
                .withComparatorForType(CurveJsonTest::closely, Double.class)
                .isEqualTo(m);
        assertThat(back.provenance()).isEqualTo(m.provenance());
        assertThat(back.findings()).isEqualTo(m.findings());
    }

    @Test
    void theConsistencyComesBack() throws Exception {
        Measurement sound = SampleMeasurements.withSharedCauses();
        ImpedanceCurve curve = sound.curve();
        List<@Nullable ChiSquare> own = new ArrayList<>();
        for (int b = 0; b < curve.bands().size(); b++) {
            own.add(b == 0 ? null : new ChiSquare(20.5 + b, 22));
        }
        Consistency consistency = new Consistency(new ChiSquare(9000.25, 9100), null, own);
        Measurement measurement = new Measurement(
                sound.microphone(),
                new ImpedanceCurve(curve.bands(), curve.values(), false, curve.covariance(), curve.side(), consistency),
                sound.route(),
                sound.routeReason(),
                sound.usability(),
                sound.findings(),
                sound.provenance());
        String text = CurveJson.write(measurement);

        assertThat(CurveJson.read(text, "curve.json").curve().consistency()).isEqualTo(consistency);
        JsonNode tree = new ObjectMapper().readTree(text).get("consistency");
        assertThat(tree.get("takes").get("p_value").doubleValue()).isEqualTo(new ChiSquare(9000.25, 9100).pValue());
        assertThat(tree.get("entered").isNull()).isTrue();
        assertThat(tree.get("bands").get("chi_square").get(0).isNull()).isTrue();
        assertThat(tree.get("bands").get("p_value")).hasSize(own.size());
        assertFault(
                text.replaceFirst("\"degrees_of_freedom\": \\[", "\"degrees_of_freedom\": [1, "),
                "should be a list of");
    }

    @Test
    void aBandTellsThatItsIntervalWasDrawn() throws Exception {
        Measurement sound = SampleMeasurements.movingCoil();
        BandValue v = sound.curve().values().get(3);
        List<BandValue> values = new ArrayList<>(sound.curve().values());
        values.set(3, v.withDrawn(2 * v.magnitudeU95Ohm(), 3 * v.phaseU95Rad()));
        Measurement drawn = new Measurement(
                sound.microphone(),
                new ImpedanceCurve(sound.curve().bands(), values, sound.curve().parallelWithInput()),
                sound.route(),
                sound.routeReason(),
                sound.usability(),
                sound.findings(),
                sound.provenance());
        List<BandValue> read =
                CurveJson.read(CurveJson.write(drawn), "curve.json").curve().values();
        assertThat(read.get(3).byDraws()).isTrue();
        assertThat(read.get(3).magnitudeU95Ohm()).isEqualTo(2 * v.magnitudeU95Ohm());
        assertThat(read.get(4).byDraws()).isFalse();
    }

    /** Files of the first program that wrote version 1 have no such key. */
    @Test
    void aFileWithoutCovarianceAcrossBandsIsRead() throws Exception {
        String old = CurveJson.write(SampleMeasurements.movingCoil())
                .replaceFirst("  \"covariance_across_bands\": null,\n", "");

        old = old.replaceFirst("  \"consistency\": null,\n", "").replaceAll(",\n +\"u95_by_draws\": false", "");

        assertThat(old).doesNotContain("across", "consistency", "draws");
        assertThat(CurveJson.read(old, "curve.json").curve().covariance()).isNull();
    }

    @Test
    void aCovarianceThatContradictsItsBandsIsRefused() {
        String good = CurveJson.write(SampleMeasurements.withSharedCauses());

        assertFault(good.replaceFirst("\"var_r\": \\[null, ", "\"var_r\": [null, 7"), "do not add up");
        assertFault(good.replaceFirst("\"dr_ohm\": \\[", "\"dr_ohm\": [1, "), "should be a list of");
        assertFault(good.replaceFirst("\"origin\": \"drift\"", "\"origin\": \"moon\""), "use one of noise, drift");
    }

    @Test
    void notANumberIsNull() {
        assertThat(Stream.concat(samples(), Stream.of(SampleMeasurements.intervalsOnly())))
                .allSatisfy(m ->
                        assertThat(CurveJson.write(m)).doesNotContain("NaN").doesNotContain("Infinity"));
    }

    @Test
    void everyFindingCodeSurvives() throws Exception {
        Measurement m = SampleMeasurements.withFindings(FindingCode.values().length);

        assertThat(CurveJson.read(CurveJson.write(m), "curve.json").findings())
                .extracting(f -> f.code())
                .containsExactly(FindingCode.values());
    }

    @Test
    void faultsAreNamedWithFilePlaceAndNextStep() {
        String good = CurveJson.write(SampleMeasurements.movingCoil());

        assertFault("{", "curve.json, line 1");
        assertFault("[]", "no \"format\": \"ohmprint-curve\"");
        assertFault(good + "{}", "curve.json, line");
        assertFault(good.replace("\"version\": 1", "\"version\": 2"), "version 2 of the format");
        assertFault(
                good.replace("\"version\": 1", "\"version\": 1,\n  \"colour\": 3"), "the key \"colour\" is not known");
        assertFault(good.replaceFirst("\"verdict\".*\n", ""), "the key \"verdict\" is missing");
        assertFault(good.replace("\"usable\"", "\"fine\""), "use one of usable, doubtful, unusable");
        assertFault(
                good.replaceFirst("\"snr_db\": 52.25", "\"snr_db\": \"loud\""), "bands[0].snr_db: should be a number");
        assertFault(good.replaceFirst("\"snr_db\": 52.25", "\"snr_db\": 1, \"snr_db\": 2"), "Duplicate");
        assertFault(
                good.replaceFirst("\"label\": \"[^\"]*\"", "\"label\": null"), "microphone.label: should be a text");
        assertFault(good.replace("2026-03-04T05:06:07Z", "yesterday"), "computed_at: \"yesterday\" is no time");
        assertFault(good.replace("\"bands_per_octave\": 12", "\"bands_per_octave\": 24"), "curve.json.bands");
        assertFault(good.replace("\"parallel_with_input\": false", "\"parallel_with_input\": true"), "contradicts");
        int list = good.indexOf("\n  \"budget\"");
        assertFault(
                good.substring(0, list) + good.substring(list).replaceFirst("noise_ohm\": ", "noise_ohm\": 1"),
                "budget: differs");
    }

    private static void assertFault(String text, String expected) {
        assertThatThrownBy(() -> CurveJson.read(text, "curve.json"))
                .isInstanceOf(ExchangeException.class)
                .hasMessageContaining(expected);
    }

    private static int closely(Double a, Double b) {
        boolean same = a.equals(b) || Math.abs(a - b) <= 4 * Math.ulp(Math.max(Math.abs(a), Math.abs(b)));
        return same ? 0 : a.compareTo(b);
    }
}
