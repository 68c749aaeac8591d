package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import ohmprint.uncertainty.CoverageFactor;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The closed forms against JCGM 106:2012 and ILAC-G8:09/2019, all values recalled from memory. */
class GuardBandTest {
    private static final double NO_LIMIT = Double.POSITIVE_INFINITY;

    /** Table 1 of JCGM 106:2012: conformance probability and z = (T_U − y)/u of a one-sided interval (from memory). */
    @ParameterizedTest
    @CsvSource({"0.80, 0.84", "0.90, 1.28", "0.95, 1.64", "0.99, 2.33", "0.999, 3.09"})
    void oneSidedIntervalAsInTheTable(double probability, double z) {
        assertThat(CoverageFactor.oneSided(1 - probability)).isCloseTo(z, within(0.0051));
        assertThat(LimitedReading.conformanceProbability(-z, 1, -NO_LIMIT, 0)).isCloseTo(probability, within(0.0015));
        assertThat(LimitedReading.conformanceProbability(z, 1, 0, NO_LIMIT)).isCloseTo(probability, within(0.0015));
    }

    /**
     * Example of JCGM 106:2012, 7.3.3 (from memory): breakdown voltage of a Zener diode, at most −5.40 V, measured
     * −5.47 V with u = 0.05 V: conformance probability Φ(1.40) = 0.92.
     */
    @Test
    void zenerDiode() {
        assertThat(LimitedReading.conformanceProbability(-5.47, 0.05, -NO_LIMIT, -5.40))
                .isCloseTo(0.92, within(0.005));
    }

    /**
     * A value in the middle of an interval of width 2·T: the probability is that of ±T/u of the normal distribution, in any
     * table 0.6827, 0.9545, 0.9973 for 1, 2, 3.
     */
    @ParameterizedTest
    @CsvSource({"1, 0.6827", "2, 0.9545", "3, 0.9973"})
    void middleOfATwoSidedInterval(double widths, double probability) {
        assertThat(LimitedReading.conformanceProbability(300, 10, 300 - 10 * widths, 300 + 10 * widths))
                .isCloseTo(probability, within(5e-5));
    }

    /**
     * Specific risk of a false acceptance at the edge of the acceptance zone for a guard band w = r·U with U = 2u, as
     * tabulated in ILAC-G8:09/2019 (from memory): below 2.5 %, 0.16 % and 1 in a million for r = 1, 1.5 and 3 (exactly 2.3 %,
     * 0.13 % and 1e-9), 50 % without one.
     */
    @ParameterizedTest
    @CsvSource({"0, 0.5001, 0.4999", "1, 0.025, 0.022", "1.5, 0.0016, 0.0013", "3, 0.000001, 0"})
    void guardBandsOfTheHandbook(double r, double atMost, double atLeast) {
        double u = 1.7;
        double limit = 240;
        double risk = 1 - LimitedReading.conformanceProbability(limit + r * 2 * u, u, limit, NO_LIMIT);
        assertThat(risk).isBetween(atLeast, atMost);
    }

    /** Student's t for 95 %: 12.706, 4.303, 2.776, 2.228, 2.042 for 1, 2, 4, 10, 30; JCGM 100:2008, table G.2 (from memory). */
    @ParameterizedTest
    @CsvSource({"1, 12.706", "2, 4.303", "4, 2.776", "10, 2.228", "30, 2.042"})
    void freedomFollowsFromTheCoverageFactor(double freedom, double factor) {
        assertThat(CoverageFactor.oneSided(0.025, freedom)).isCloseTo(factor, within(0.0006));
        assertThat(CoverageFactor.freedom(factor)).isCloseTo(freedom, within(0.03 * freedom));
    }

    @Test
    void theNormalFactorMeansKnownUncertainty() {
        assertThat(CoverageFactor.freedom(1.96)).isGreaterThan(5e4);
        assertThat(CoverageFactor.freedom(1.9)).isInfinite();
        assertThat(CoverageFactor.freedom(Double.NaN)).isInfinite();
    }

    /** An exact value on a limit keeps it: limits belong to the interval that is allowed (JCGM 106:2012, 3.3.5, from memory). */
    @ParameterizedTest
    @CsvSource({"240, 1", "360, 1", "239.999, 0", "360.001, 0"})
    void anExactValueOnItsLimitKeepsIt(double ohm, double probability) {
        assertThat(LimitedReading.conformanceProbability(ohm, 0, 240, 360)).isEqualTo(probability);
    }
}
