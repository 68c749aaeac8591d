package ohmprint.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.distribution.TDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class CoverageFactorTest {
    // Source: JCGM 100:2008, table G.2, column 95 %; recalled from memory.
    @ParameterizedTest
    @CsvSource({"1, 12.71", "2, 4.30", "3, 3.18", "5, 2.57", "10, 2.23", "20, 2.09", "50, 2.01", "100, 1.984"})
    void isThatOfTheTable(double freedom, double factor) {
        assertThat(CoverageFactor.student(freedom)).isCloseTo(factor, within(0.0051));
    }

    @Test
    void isThatOfTheNormalDistributionForEndlessFreedom() {
        assertThat(CoverageFactor.student(Double.POSITIVE_INFINITY)).isCloseTo(1.959964, within(5e-7));
    }

    // Source: the quantile by Commons Math, which solves for it.
    @ParameterizedTest
    @ValueSource(doubles = {200, 350.5, 1000, 1e5})
    void theSeriesMeetsTheQuantile(double freedom) {
        assertThat(CoverageFactor.student(freedom))
                .isCloseTo(new TDistribution(freedom).inverseCumulativeProbability(0.975), within(2e-8));
    }

    /** Back from the values of table G.2 of JCGM 100:2008. */
    @Test
    void aFactorTellsItsDegreesOfFreedom() {
        assertThat(CoverageFactor.freedom(2.776445)).isCloseTo(4, within(1e-5));
        assertThat(CoverageFactor.freedom(2.0)).isBetween(59.0, 61.5);
        assertThat(CoverageFactor.freedom(12.7062)).isCloseTo(1, within(1e-3));
        assertThat(CoverageFactor.freedom(100)).isEqualTo(1);
        assertThat(CoverageFactor.freedom(1.96)).isInfinite();
        assertThat(CoverageFactor.freedom(1.65)).isInfinite();
    }
}
