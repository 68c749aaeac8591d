package ohmprint.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Coverage factors of sums of rectangular and normal parts, against closed forms, JCGM 101:2008 and scipy. */
class ToleranceFactorTest {
    private static final double EXACT = 2e-4;
    /** Two digits of half an interval, as JCGM 101 prints it. */
    private static final double AS_PRINTED = 0.004;

    /** Closed form: 0.95·√3, the half-width of the middle 95 % of a rectangle over its standard deviation. */
    @Test
    void oneToleranceAlone() {
        assertThat(factor(0, 1)).isCloseTo(0.95 * Math.sqrt(3), within(EXACT));
    }

    /** Closed form: two equal rectangles make a triangle, whose middle 95 % reach to √6·(1 − √0.05) standard deviations. */
    @Test
    void twoEqualTolerancesMakeATriangle() {
        assertThat(factor(0, 1, 1)).isCloseTo(Math.sqrt(6) * (1 - Math.sqrt(0.05)), within(EXACT));
    }

    /** JCGM 101:2008, 9.2.3: four rectangular quantities of u = 1 have u = 2.0 and the 95 % interval ±3.88. */
    @Test
    void fourEqualTolerancesOfSupplementOne() {
        assertThat(2 * factor(0, 1, 1, 1, 1)).isCloseTo(3.88, within(2 * AS_PRINTED));
    }

    /** JCGM 101:2008, 9.2.4 (from memory): one of them of u = 10 instead gives u = 10.1 and ±17.0, where 1.96·u is ±19.9. */
    @Test
    void oneDominatingToleranceOfSupplementOne() {
        assertThat(Math.sqrt(103) * factor(0, 1, 1, 1, 10)).isCloseTo(17.0, within(0.05));
    }

    /** Half-widths and normal part; the factor by Gauss–Legendre integration and Brent's method with scipy 1.17.1. */
    @ParameterizedTest
    @CsvSource({
        "0.1, 1, 0, 1.67455",
        "0.3, 1, 0, 1.81698",
        "0.577, 1, 0, 1.91736",
        "0.2, 1, 1, 1.90298",
        "0.2, 1, 0.5, 1.85203",
        "0.5, 2, 1, 1.86340"
    })
    void tolerancesWithANormalPart(double normal, double first, double second, double expected) {
        assertThat(factor(normal, first / Math.sqrt(3), second / Math.sqrt(3))).isCloseTo(expected, within(EXACT));
    }

    @Test
    void whatDoesNotMatterLeavesTheNormalFactor() {
        assertThat(factor(1)).isEqualTo(CoverageFactor.NORMAL);
        assertThat(factor(1, 0.1, 0.2)).isEqualTo(CoverageFactor.NORMAL);
    }

    /** Where the exact factor takes over from the normal one there is no step that shows. */
    @Test
    void thereIsNoStepWhereItBeginsToMatter() {
        double before = factor(1, 0.72);
        for (double u = 0.72; u < 1; u += 0.002) {
            double next = factor(1, u);
            assertThat(next).isCloseTo(before, within(0.02));
            before = next;
        }
        assertThat(before).isLessThan(CoverageFactor.NORMAL);
    }

    /** The sign of a sensitivity and the order of the parts say nothing. */
    @Test
    void signAndOrderDoNotCount() {
        assertThat(factor(0.3, -1, 0.5, 2)).isEqualTo(factor(0.3, 2, 1, -0.5));
    }

    private static double factor(double normal, double... rectangular) {
        double square =
                normal * normal + Arrays.stream(rectangular).map(u -> u * u).sum();
        return ToleranceFactor.of(rectangular, rectangular.length, Math.sqrt(square));
    }
}
