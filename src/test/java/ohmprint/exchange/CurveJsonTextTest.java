package ohmprint.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.util.List;
import java.util.Locale;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;

/** The text that is written: its keys in their order, their values, its form. */
class CurveJsonTextTest {
    @Test
    void theTopLevelKeysComeInTheirOrder() throws Exception {
        JsonNode tree = new ObjectMapper().readTree(CurveJson.write(SampleMeasurements.ribbonWithGaps()));

        assertThat(tree.fieldNames())
                .toIterable()
                .containsExactly(
                        "format",
                        "version",
                        "quantity",
                        "parallel_with_input",
                        "microphone",
                        "bands_per_octave",
                        "route",
                        "route_reason",
                        "verdict",
                        "findings",
                        "bands",
                        "budget",
                        "covariance_across_bands",
                        "consistency",
                        "provenance");
        assertThat(tree.get("quantity").textValue()).isEqualTo("source impedance in parallel with the input");
        assertThat(tree.get("verdict").textValue()).isEqualTo("doubtful");
        assertThat(tree.get("findings").get(1).get("code").textValue()).isEqualTo("input-unknown");
        assertThat(tree.get("findings").get(1).get("take").isNull()).isTrue();
    }

    @Test
    void aBandHoldsItsValuesUnderTheirNames() throws Exception {
        Measurement m = SampleMeasurements.movingCoil();
        JsonNode tree = new ObjectMapper().readTree(CurveJson.write(m));
        BandValue v = m.curve().values().get(3);
        JsonNode band = tree.get("bands").get(3);

        assertThat(band.get("frequency_hz").doubleValue()).isEqualTo(v.frequencyHz());
        assertThat(band.get("magnitude_ohm").doubleValue()).isEqualTo(v.magnitudeOhm());
        assertThat(band.get("phase_deg").doubleValue()).isEqualTo(v.phaseDeg());
        assertThat(band.get("resistance_ohm").doubleValue()).isEqualTo(v.resistanceOhm());
        assertThat(band.get("reactance_ohm").doubleValue()).isEqualTo(v.reactanceOhm());
        assertThat(band.get("magnitude_low_ohm").isNull()).isTrue();
        assertThat(band.get("covariance").get("cov_rx").doubleValue())
                .isEqualTo(v.covariance().covRX());
        assertThat(band.get("budget").get("loads_ohm").doubleValue())
                .isEqualTo(v.budget().loads());
        assertThat(tree.get("budget").get(3).get("frequency_hz").doubleValue()).isEqualTo(v.frequencyHz());
        assertThat(tree.get("budget").get(3).get("timing_ohm").doubleValue())
                .isEqualTo(v.budget().timing());
    }

    @Test
    void provenanceTellsLoadsChannelsAndFingerprints() throws Exception {
        JsonNode p = new ObjectMapper()
                .readTree(CurveJson.write(SampleMeasurements.movingCoil()))
                .get("provenance");

        assertThat(p.get("computed_at").textValue()).isEqualTo("2026-03-04T05:06:07Z");
        assertThat(p.get("input").textValue()).isEqualTo("3000 Ω ± 5 % ∥ 470 pF");
        assertThat(p.get("takes").get(0).get("load_ohm").doubleValue()).isEqualTo(150);
        assertThat(p.get("takes").get(0).get("reference_channel").isNull()).isTrue();
        assertThat(p.get("takes").get(1).get("load_ohm").textValue()).isEqualTo("open");
        assertThat(p.get("takes").get(1).get("reference_channel").intValue()).isEqualTo(2);
        assertThat(p.get("takes").get(1).get("delay_samples").isNull()).isTrue();
        assertThat(p.get("takes").get(1).get("drift_db").doubleValue()).isEqualTo(-0.125);
        assertThat(p.get("takes").get(1).get("left_out").booleanValue()).isTrue();
        assertThat(p.get("stimulus").get("sha256").textValue()).hasSize(64);
    }

    @Test
    void theCovarianceAcrossBandsHasAListForEachCause() throws Exception {
        JsonNode tree = new ObjectMapper().readTree(CurveJson.write(SampleMeasurements.withSharedCauses()));
        JsonNode across = tree.get("covariance_across_bands");
        int bands = tree.get("bands").size();

        assertThat(across.get("noise").get("var_r")).hasSize(bands);
        assertThat(across.get("causes").get(0).get("name").textValue()).isEqualTo("level of take-1.wav");
        assertThat(across.get("causes").get(0).get("origin").textValue()).isEqualTo("drift");
        assertThat(across.get("causes").get(1).get("dx_ohm")).hasSize(bands);
        assertThat(across.get("causes").get(1).get("dx_ohm").get(0).isNull()).isTrue();
        assertThat(across.get("noise").get("cov_rx").get(0).isNull()).isTrue();
    }

    @Test
    void theLocaleChangesNothing() {
        String expected = CurveJson.write(SampleMeasurements.movingCoil());
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));

            assertThat(CurveJson.write(SampleMeasurements.movingCoil())).isEqualTo(expected);
        } finally {
            Locale.setDefault(before);
        }
    }

    @Test
    void theTextIsIndentedWithTwoBlanksAndEndsInALineFeed() {
        List<String> lines =
                CurveJson.write(SampleMeasurements.movingCoil()).lines().toList();

        assertThat(lines.subList(0, 6))
                .containsExactly(
                        "{",
                        "  \"format\": \"ohmprint-curve\",",
                        "  \"version\": 1,",
                        "  \"quantity\": \"source impedance\",",
                        "  \"parallel_with_input\": false,",
                        "  \"microphone\": {");
        assertThat(CurveJson.write(SampleMeasurements.movingCoil()))
                .endsWith("}\n")
                .doesNotContain("\r");
    }
}
