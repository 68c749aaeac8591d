package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import ohmprint.exchange.CurveJson;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The command {@code match} as a user or a script meets it. */
@Tag("slow")
class MatchCommandTest {
    @TempDir
    Path here;

    private String stdout = "";
    private String stderr = "";

    @BeforeEach
    void aCurve() throws IOException {
        store(SampleMeasurements.movingCoil());
    }

    private void store(Measurement measurement) throws IOException {
        Files.writeString(here.resolve("curve.json"), CurveJson.write(measurement));
    }

    private int run(String line) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        String[] args = Arrays.stream(line.split(" "))
                .map(arg -> arg.replace("HERE", here.toString()))
                .toArray(String[]::new);
        int code = Main.run(args, new PrintWriter(out), new PrintWriter(err));
        stdout = out.toString();
        stderr = err.toString();
        return code;
    }

    private JsonNode json(String line) throws IOException {
        assertThat(run(line)).as(stderr).isZero();
        assertThat(stdout.lines()).hasSize(1);
        return new ObjectMapper().readTree(stdout);
    }

    /** Keys that programs rely on; values of 300 Ω at 150 Hz and of 200 Ω and 1 mH at the top. */
    @Test
    void jsonHoldsLossTiltLeastLoadAndTenTimes() throws IOException {
        JsonNode json = json("match HERE --load 1500 --load 3000 --json");
        assertThat(json.get("loads")).hasSize(2);
        JsonNode first = json.get("loads").get(0);
        assertThat(first.get("load_ohm").intValue()).isEqualTo(1500);
        assertThat(first.get("worst_loss_db").doubleValue())
                .isCloseTo(20 * Math.log10(1 + 300 / 1500.0), within(0.005));
        assertThat(first.get("worst_loss_hz").doubleValue()).isBetween(140.0, 160.0);
        double low = 20 * Math.log10(1 + 200 / 1500.0);
        assertThat(first.get("tilt_db").doubleValue())
                .isCloseTo(first.get("worst_loss_db").doubleValue() - low, within(0.03));
        JsonNode second = json.get("loads").get(1);
        assertThat(second.get("load_ohm").intValue()).isEqualTo(3000);
        assertThat(second.get("worst_loss_db").doubleValue()).isBetween(0.80, 0.83);
        assertThat(json.get("least_load_1db_ohm").doubleValue())
                .isCloseTo(300 / (Math.pow(10, 0.05) - 1), within(15.0));
        assertThat(json.get("ten_times_ohm").doubleValue()).isCloseTo(3000, within(15.0));
        assertThat(json.get("ten_times_hz").doubleValue()).isBetween(140.0, 160.0);
        for (String key : List.of("worst_loss_u95_db", "tilt_u95_db", "loss_1khz_u95_db")) {
            assertThat(first.get(key).doubleValue()).as(key).isPositive();
        }
        assertThat(json.get("least_load_half_db_tilt_ohm").doubleValue()).isPositive();
        assertThat(json.get("variable_load")).hasSize(9);
        assertThat(stderr).isEmpty();
    }

    @Test
    void jsonOfBoundsHasNoValues() throws IOException {
        store(SampleMeasurements.intervalsOnly());
        JsonNode json = json("match HERE --load 1500 --to 1000 --json");
        JsonNode load = json.get("loads").get(0);
        assertThat(load.get("worst_loss_db").isNull()).isTrue();
        assertThat(load.get("worst_loss_high_db").doubleValue())
                .isGreaterThan(load.get("worst_loss_low_db").doubleValue());
        assertThat(json.get("least_load_1db_ohm").isNull()).isTrue();
        assertThat(json.get("least_load_1db_high_ohm").doubleValue()).isPositive();
        assertThat(json.get("interval_bands").intValue()).isPositive();
        assertThat(stdout).doesNotContain("NaN", "Infinity");
        assertThat(run("match HERE --load 1500")).isZero();
        assertThat(stdout)
                .contains("0.061 or more", "0.96 or less", "only bounds of |Z|")
                .doesNotContain("NaN", "null");
    }

    @Test
    void theTableSaysWhatHoldsAndWhereNothingIsClaimed() {
        assertThat(run("match HERE --load 1500 --load 3000:470 --cable 10 --cable-pf 90 --phantom-feeds"))
                .as(stderr)
                .isZero();
        assertThat(stdout)
                .contains("ten times", "least load", "1500 Ω", "3000 Ω ∥ 470 pF", "cable of 10 m with 900 pF")
                .contains("30.7 Hz to 17.3 kHz", "nothing is claimed outside")
                .doesNotContain("dBu");
    }

    @Test
    void withoutInputsAVariableLoadIsShown() {
        assertThat(run("match HERE")).isZero();
        assertThat(stdout).contains("  150 Ω ", "  40 kΩ ");
    }

    @Test
    void levelAndNoiseAreToldWhenTheSensitivityIs() throws IOException {
        String line = "match HERE --load 1500 --sensitivity 1.5 --spl 80 --gain 60 --ein -127 --booster 20000"
                + " --booster-gain 25 --booster-noise 1.3 --target 0";
        assertThat(run(line)).as(stderr).isZero();
        assertThat(stdout).contains("level dBu", "equivalent dB(A)", "booster → 1500 Ω", "gain for 0 dBu");
        JsonNode json = json(line + " --json");
        JsonNode load = json.get("loads").get(0);
        // 1.5 mV/Pa at 80 dB: 0.3 mV open, −68.24 dBu.
        double open = 20 * Math.log10(1.5e-3 * 20e-6 * 1e4 / Math.sqrt(0.6));
        assertThat(load.get("level_dbu").doubleValue())
                .isCloseTo(open - load.get("loss_1khz_db").doubleValue(), within(1e-9));
        assertThat(load.get("needed_gain_db").doubleValue())
                .isCloseTo(-load.get("level_dbu").doubleValue(), within(1e-9));
        assertThat(load.get("enough").textValue()).isEqualTo("no");
        JsonNode chain = json.get("chains").get(0);
        assertThat(chain.get("available_gain_db").doubleValue()).isEqualTo(85);
        assertThat(chain.get("enough").textValue()).isEqualTo("yes");
        assertThat(chain.get("equivalent_noise_a_db_spl").doubleValue())
                .isLessThan(load.get("equivalent_noise_a_db_spl").doubleValue());
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "match | CURVE is missing",
                "match HERE/nowhere | nowhere is not there",
                "match HERE --load 0 | --load holds 0; give a plain number from 0.001 Ω",
                "match HERE --load 1500:x | --load holds x; give a plain number from 0 pF",
                "match HERE --load 1,500 | --load holds 1,500",
                "match HERE --cable 10 | --cable-pf is missing",
                "match HERE --gain 60 | --gain is given without --sensitivity",
                "match HERE --sensitivity 0 | --sensitivity holds 0; give a plain number above 0 mV/Pa",
                "match HERE --sensitivity 1 --ein -127 --voltage-noise 1 | --ein and --voltage-noise are both given",
                "match HERE --load 600 --sensitivity 1 --ein -140 | -140 dBu is below the -130.9 dBu",
                "match HERE --booster 20000 | --booster-gain is missing",
                "match HERE --from 500 --to 50 | give --from the lower frequency",
                "match HERE --from 1 --to 10 | the curve says nothing between 1 Hz and 10 Hz",
                "match HERE --theme blue | --theme is blue; choose light or dark",
                "match HERE --inputs HERE/no.yaml | no.yaml is not there",
                "match HERE --input-curve HERE/no.csv | no.csv is not there",
                "match HERE --out HERE | which is no result of this command",
                "match HERE --lod 3 | did you mean --load"
            })
    void badInputIsNamedAndNothingIsWritten(String line, String message) throws IOException {
        assertThat(run(line)).isEqualTo(ExitCode.BAD_INPUT);
        assertThat(stderr).contains(message);
        assertThat(stdout).isEmpty();
        try (var files = Files.list(here)) {
            assertThat(files).hasSize(1);
        }
    }

    @Test
    void numbersDoNotDependOnTheLocale() {
        Locale before = Locale.getDefault();
        try {
            run("match HERE --load 1500 --sensitivity 1");
            String english = stdout;
            Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
            run("match HERE --load 1500 --sensitivity 1");
            assertThat(stdout).isEqualTo(english);
        } finally {
            Locale.setDefault(before);
        }
    }
}
