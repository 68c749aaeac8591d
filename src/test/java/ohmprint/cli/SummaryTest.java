package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.text.Rounded;
import org.junit.jupiter.api.Test;

class SummaryTest {
    private static String summary(Measurement measurement) {
        Bench bench = Bench.written(measurement);
        bench.run("measure", "x");
        return bench.stdout;
    }

    private static List<String> rows(Measurement measurement) {
        return summary(measurement)
                .lines()
                .filter(line -> line.matches(" +[0-9.]+ k?Hz .*"))
                .toList();
    }

    @Test
    void saysWhatWasMeasuredHowAndHowFarToTrustIt() {
        assertThat(summary(SampleMeasurements.movingCoil()))
                .contains("microphone  Bench dynamic 2 (")
                .contains("serial 0042")
                .contains("quantity    source impedance\n")
                .contains("route       stimulus: the session holds the stimulus and every take follows it")
                .contains("verdict     usable, no findings")
                .contains(": curve.csv, curve.json, curve.s1p, curve.svg, curve.png")
                .contains("What would sharpen it\n  The loads dominate; measure them to 0.1 %.");
    }

    @Test
    void theTableHasTheOctavesFromTheNearestBands() {
        List<String> rows = rows(SampleMeasurements.movingCoil());
        assertThat(rows).hasSize(10);
        assertThat(rows.get(0)).matches(" +3[012]\\.[0-9] Hz .*");
        assertThat(rows.get(9)).matches(" +1[56]\\.[0-9] kHz .*");
    }

    @Test
    void thirdOctaveRowsHoldTheValueOfTheirBandRoundedToItsUncertainty() {
        Measurement m = SampleMeasurements.thirdOctaves();
        BandValue at1k = m.curve().values().stream()
                .filter(v -> Math.abs(v.frequencyHz() - 1000) < 1)
                .findFirst()
                .orElseThrow();
        Rounded ohm = Rounded.of(at1k.magnitudeOhm(), at1k.magnitudeU95Ohm());
        Rounded degrees = Rounded.of(at1k.phaseDeg(), at1k.phaseU95Deg());
        assertThat(rows(m))
                .anySatisfy(row -> assertThat(row.trim().split(" +"))
                        .containsExactly(
                                "1.00", "kHz", ohm.value(), ohm.uncertainty(), degrees.value(), degrees.uncertainty()));
    }

    @Test
    void bandsOutsideTheMeasuredRangeHaveNoRow() {
        List<String> rows = rows(SampleMeasurements.intervalsOnly());
        assertThat(rows).as("bands from 50 Hz to 16 kHz").hasSize(9);
        assertThat(rows.get(0)).contains(" 63.1 Hz ");
        assertThat(rows.get(8)).contains(" 15.8 kHz ");
    }

    @Test
    void intervalsShowBothBounds() {
        assertThat(rows(SampleMeasurements.intervalsOnly()))
                .anyMatch(row -> row.matches(".* [0-9]+ to [0-9]+ .*"))
                .noneMatch(row -> row.contains("°"));
    }

    @Test
    void undeterminedPhaseIsADash() {
        assertThat(rows(SampleMeasurements.magnitudesOnly()))
                .allMatch(row -> row.endsWith("–  –") || row.matches(".*– +–"));
    }

    @Test
    void rejectedBandsAreCountedAndNamed() {
        assertThat(summary(SampleMeasurements.ribbonWithGaps()))
                .containsPattern("bands       [0-9]+ measured, [0-9]+ rejected \\(1/12 octave\\)");
    }

    @Test
    void theParallelCombinationIsNamedAndRecommendsNoInput() {
        assertThat(summary(SampleMeasurements.ribbonWithGaps()))
                .contains("source impedance in parallel with the input: the input was not stated")
                .doesNotContain("ten times");
    }

    @Test
    void theRecommendedInputIsTenTimesTheUpperEndOfTheBand() {
        Measurement m = SampleMeasurements.movingCoil();
        double highest = 0;
        for (BandValue v : m.curve().values()) {
            highest = Math.max(highest, v.magnitudeOhm() + v.magnitudeU95Ohm());
        }
        Matcher said = Pattern.compile("an input of ([0-9]+) Ω or more is ten times \\|Z\\|")
                .matcher(summary(m));
        assertThat(said.find()).isTrue();
        assertThat(Double.parseDouble(said.group(1))).isBetween(10 * highest, 11 * highest);
    }

    @Test
    void highestAndLowestSayWhere() {
        // The sample is 200 Ω with a resonance at 150 Hz that adds 100 Ω: 300.0 Ω there in closed form.
        assertThat(summary(SampleMeasurements.movingCoil()))
                .containsPattern("highest     (299|30[0-9])(\\.[0-9]+)? ± [0-9.]+ Ω at 1(4[0-9]|5[0-9]) Hz")
                .containsPattern("lowest      20[0-9](\\.[0-9]+)? ± [0-9.]+ Ω at ");
    }
}
