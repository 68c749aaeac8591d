package ohmprint.chart;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class TicksTest {
    @Test
    void hertzAreLabelledFromTwentyToTwentyThousand() {
        assertThat(Ticks.logarithmic(20, 20000, 30).stream().map(Ticks::engineering))
                .containsExactly("20", "50", "100", "200", "500", "1k", "2k", "5k", "10k", "20k");
    }

    @Test
    void aShortAxisGetsLabelsBetweenOneTwoFive() {
        assertThat(Ticks.logarithmic(110, 460, 20)).containsExactly(150.0, 200.0, 300.0, 400.0);
    }

    @Test
    void aCrowdedAxisGetsFewerLabels() {
        assertThat(Ticks.logarithmic(1, 1e6, 13)).containsExactly(decades(0, 6, 1, 3));
        assertThat(Ticks.logarithmic(1, 1e6, 7)).containsExactly(decades(0, 6, 1));
    }

    @Test
    void degreesDivideTheRightAngle() {
        assertThat(Ticks.degrees(-95, 95, 7)).containsExactly(-90.0, -60.0, -30.0, 0.0, 30.0, 60.0, 90.0);
        assertThat(Ticks.degrees(-12, 31, 7)).containsExactly(-10.0, 0.0, 10.0, 20.0, 30.0);
    }

    @Test
    void linearStepsAreOneTwoFive() {
        assertThat(Ticks.linear(-0.2, 2.6, 7)).containsExactly(0.0, 0.5, 1.0, 1.5, 2.0, 2.5);
        assertThat(Ticks.linear(0, 10, 7)).containsExactly(0.0, 2.0, 4.0, 6.0, 8.0, 10.0);
    }

    /** Where a band holds no signal 1/D is no number; an empty or endless range has no labels, and no loop without end. */
    @Test
    void whatIsNoRangeHasNoLabels() {
        for (double bad : new double[] {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY}) {
            assertThat(Ticks.linear(0, bad, 7)).isEmpty();
            assertThat(Ticks.linear(bad, 1, 7)).isEmpty();
            assertThat(Ticks.logarithmic(1, bad, 7)).isEmpty();
            assertThat(Ticks.logarithmic(bad, 1, 7)).isEmpty();
        }
        assertThat(Ticks.linear(1, 1, 7)).isEmpty();
        assertThat(Ticks.logarithmic(0, 10, 7)).isEmpty();
        assertThat(Ticks.between(-1, 10)).isEmpty();
    }

    @Test
    void numbersAreShortWithATrueMinusSign() {
        assertThat(List.of(Ticks.plain(-30), Ticks.plain(0.1 + 0.2), Ticks.plain(-1e-17), Ticks.plain(1500)))
                .containsExactly("−30", "0.3", "0", "1500");
        assertThat(List.of(Ticks.engineering(1500), Ticks.engineering(1e6), Ticks.threeDigits(12345)))
                .containsExactly("1.5k", "1M", "12300");
    }

    private static Double[] decades(int from, int to, int... mantissas) {
        List<Double> values = new ArrayList<>();
        for (int d = from; d <= to; d++) {
            for (int m : mantissas) {
                double v = m * Math.pow(10, d);
                if (v <= Math.pow(10, to)) {
                    values.add(v);
                }
            }
        }
        return values.toArray(Double[]::new);
    }
}
