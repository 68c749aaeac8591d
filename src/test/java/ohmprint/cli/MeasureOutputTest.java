package ohmprint.cli;

import static java.util.stream.Collectors.joining;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What {@code measure} prints of a measurement, in words and as JSON, and its exit code. */
class MeasureOutputTest {
    @Test
    void findingsGoToStandardErrorOneLineEach() {
        Bench bench = Bench.written(SampleMeasurements.ribbonWithGaps());
        assertThat(bench.run("measure", "x")).isZero();
        List<String> lines = bench.stderr.lines().toList();
        assertThat(lines).hasSize(2);
        assertThat(lines.get(0)).startsWith("low-snr: take-2.wav: take take-2.wav is less than 20 dB");
        assertThat(lines.get(1)).startsWith("input-unknown: the recording input is not stated");
        assertThat(bench.stdout).doesNotContain("low-snr");
    }

    @Test
    void nothingWrittenIsExitThreeAndShowsNoOhms() {
        Bench bench = Bench.refused(SampleMeasurements.withFindings(2));
        assertThat(bench.run("measure", "x")).isEqualTo(3);
        assertThat(bench.stdout).contains("unusable").contains("--force").doesNotContain("Ω");
        assertThat(bench.stderr.lines()).hasSize(2);
    }

    @Test
    void forcedResultIsWrittenWithExitZeroAndRecommendsNoInput() {
        Bench bench = Bench.written(SampleMeasurements.withFindings(2));
        assertThat(bench.run("measure", "x", "--force")).isZero();
        assertThat(bench.stdout).contains("unusable").contains("here").doesNotContain("ten times");
    }

    @Test
    void jsonIsOneObjectAndNothingElse() throws IOException {
        Bench bench = Bench.written(SampleMeasurements.ribbonWithGaps());
        assertThat(bench.run("measure", "x", "--json")).isZero();
        assertThat(bench.stdout.lines()).hasSize(1);
        JsonNode json = new ObjectMapper().readTree(bench.stdout);
        assertThat(json.fieldNames())
                .toIterable()
                .containsExactly(
                        "verdict",
                        "route",
                        "route_reason",
                        "quantity",
                        "folder",
                        "files",
                        "findings",
                        "consistency",
                        "measured_bands",
                        "rejected_bands",
                        "interval_bands",
                        "advice");
        Measurement m = SampleMeasurements.ribbonWithGaps();
        assertThat(json.get("verdict").textValue()).isEqualTo("doubtful");
        assertThat(json.get("quantity").textValue()).isEqualTo("source impedance in parallel with the input");
        assertThat(json.get("folder").textValue())
                .isEqualTo(Path.of("here", "result").toString());
        assertThat(json.get("files")).hasSize(5);
        assertThat(json.get("findings").get(0).get("code").textValue()).isEqualTo("low-snr");
        assertThat(json.get("findings").get(1).get("take").isNull()).isTrue();
        assertThat(json.get("measured_bands").intValue()
                        + json.get("rejected_bands").intValue())
                .isEqualTo(m.curve().bands().size());
        assertThat(json.get("rejected_bands").intValue()).isPositive();
        assertThat(json.get("advice").get(0).textValue()).startsWith("The loads dominate");
    }

    @Test
    void jsonOfARefusalHasNoFolder() throws IOException {
        Bench bench = Bench.refused(SampleMeasurements.withFindings(1));
        assertThat(bench.run("measure", "x", "--json")).isEqualTo(3);
        JsonNode json = new ObjectMapper().readTree(bench.stdout);
        assertThat(json.get("folder").isNull()).isTrue();
        assertThat(json.get("files")).isEmpty();
    }

    static Stream<Measurement> allKinds() {
        return Stream.of(
                SampleMeasurements.movingCoil(),
                SampleMeasurements.ribbonWithGaps(),
                SampleMeasurements.intervalsOnly(),
                SampleMeasurements.magnitudesOnly(),
                SampleMeasurements.wideRange(),
                SampleMeasurements.thirdOctaves());
    }

    @ParameterizedTest
    @MethodSource("allKinds")
    void outputDoesNotDependOnTheLocale(Measurement measurement) {
        Locale usual = Locale.getDefault();
        try {
            String all = Stream.of("en-GB", "de-DE", "ar-EG-u-nu-arab", "tr-TR")
                    .map(tag -> {
                        Locale.setDefault(Locale.forLanguageTag(tag));
                        Bench bench = Bench.written(measurement);
                        bench.run("measure", "x");
                        return bench.stdout + bench.stderr;
                    })
                    .distinct()
                    .collect(joining("\n=====\n"));
            assertThat(all).doesNotContain("=====").doesNotContain("NaN").doesNotContain("Infinity");
        } finally {
            Locale.setDefault(usual);
        }
    }

    @Test
    void controlCharactersFromOutsideDoNotReachTheTerminal() {
        Measurement odd = SampleMeasurements.labelled("Bench\u001b[2J ribbon\r\n7");
        assertThat(odd.microphone()).extracting(Microphone::label).asString().contains("\u001b");
        Bench bench = Bench.written(odd);
        bench.run("measure", "x");
        assertThat(bench.stdout).doesNotContain("\u001b").doesNotContain("\r\n7");
    }
}
