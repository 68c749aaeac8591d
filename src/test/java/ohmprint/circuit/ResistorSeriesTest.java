package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Preferred values after IEC 60063 (from memory). */
class ResistorSeriesTest {
    @Test
    void everyOtherValueOfTheFinerSeriesIsTheCoarserOne() {
        double[] fine = ResistorSeries.E24.decade();
        assertThat(IntStream.range(0, 12).mapToDouble(i -> fine[2 * i]).toArray())
                .containsExactly(ResistorSeries.E12.decade());
    }

    // IEC 60063 (from memory): of the 24 values, these eight are not the rounded powers 10^(i/24), by one in the last
    // digit each.
    @Test
    void theTwentyFourAreRoundedPowersButForEight() {
        double[] values = ResistorSeries.E24.decade();
        List<Double> others = IntStream.range(0, 24)
                .filter(i -> Math.rint(10 * Math.pow(10, i / 24.0)) != Math.rint(10 * values[i]))
                .mapToObj(i -> values[i])
                .toList();
        assertThat(others).containsExactly(2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 8.2);
        for (int i = 0; i < 24; i++) {
            assertThat(Math.abs(values[i] - Math.pow(10, i / 24.0))).isLessThan(0.16);
        }
    }

    // Values of the series in thousands of catalogues (from memory).
    @Test
    void theNinetySixHoldTheirWellKnownValues() {
        double[] values = ResistorSeries.E96.decade();
        assertThat(values)
                .hasSize(96)
                .contains(
                        1.00, 1.02, 1.05, 1.47, 1.50, 2.21, 2.26, 3.01, 3.32, 4.75, 4.99, 6.04, 6.81, 7.50, 9.09, 9.76)
                .doesNotContain(1.20, 2.20, 4.70, 6.80);
        assertThat(Arrays.stream(values).distinct().count()).isEqualTo(96);
        assertThat(values).isSorted();
    }

    @Test
    void aRangeCrossesDecadesAndHoldsItsEndsExactly() {
        assertThat(ResistorSeries.E12.between(82, 150)).containsExactly(82.0, 100.0, 120.0, 150.0);
        assertThat(ResistorSeries.E12.between(0.82, 1.2)).containsExactly(0.82, 1.0, 1.2);
        assertThat(ResistorSeries.E96.between(9.6, 10.3)).containsExactly(9.76, 10.0, 10.2);
        assertThat(ResistorSeries.E24.between(61, 62)).containsExactly(62.0);
        assertThat(ResistorSeries.E24.between(101, 109)).isEmpty();
        assertThat(ResistorSeries.E96.between(1e3, 9.99e3)).hasSize(96);
    }
}
