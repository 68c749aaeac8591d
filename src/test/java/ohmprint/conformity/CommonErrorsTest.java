package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import ohmprint.conformity.CommonErrors.ErrorDecomposition;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SharedCause;
import ohmprint.uncertainty.CoverageFactor;
import org.junit.jupiter.api.Test;

/**
 * Shares of two causes in the errors of two bands, by {@code (R·dR + X·dX)/|Z|} (closed form): Z = 120 + j160 Ω, |Z| = 200 Ω, is moved
 * by 1 and 0.4 Ω, Z = 240 − j70 Ω, |Z| = 250 Ω, by 2.2 and 0.12 Ω; noise has 0.7 Ω.
 */
class CommonErrorsTest {
    private static final double EXACT = 1e-9;
    private static final FrequencyBands BANDS = FrequencyBands.within(3, 990, 1300);
    private static final Limits LIMITS = Limits.exact(100, 300);
    private static final double NOISE = 0.7;

    private static final CommonErrors ERRORS = new CommonErrors(new ImpedanceCurve(
            BANDS,
            List.of(value(0, 120, 160), value(1, 240, -70)),
            false,
            CurveCovariance.of(
                    List.of(
                            SharedCause.ofOhms("level", CauseOrigin.DRIFT, new double[] {1, 2}, new double[] {0.5, -1}),
                            SharedCause.ofOhms(
                                    "resistor", CauseOrigin.LOADS, new double[] {-0.4, 0.3}, new double[] {0.8, 0.6})),
                    List.of(PlaneCovariance.circular(NOISE), PlaneCovariance.circular(NOISE)))));

    private static BandValue value(int b, double r, double x) {
        return BandValue.complex(
                BANDS.midband(b), r, x, PlaneCovariance.circular(2), 4, 0.01, 60, new BandBudget(2, 0, 0, 0, 0));
    }

    private static Reading reading(double ohm, double u, boolean interpolated, double share) {
        return new Reading(
                1000,
                BandStatus.MEASURED,
                interpolated,
                ohm,
                u * CoverageFactor.NORMAL,
                Double.POSITIVE_INFINITY,
                Double.NaN,
                Double.NaN,
                0,
                share);
    }

    private static void isShare(ErrorDecomposition share, double first, double second, int ownBand) {
        assertThat(share.common()).containsExactly(new double[] {first, second}, within(EXACT));
        assertThat(share.own()).isCloseTo(Math.sqrt(1 - first * first - second * second), within(EXACT));
        assertThat(share.ownBand()).isEqualTo(ownBand);
    }

    /** What is stated beyond causes and noise is the reading's own. */
    @Test
    void atAMidbandTheCausesHaveTheirPartOfWhatIsStated() {
        isShare(ERRORS.of(reading(200, 2, false, 0), LIMITS), 1 / 2.0, 0.4 / 2, 0);
    }

    @Test
    void causesAndNoiseAreTheLeastThatAReadingErrs() {
        double u = Math.sqrt(1 + 0.16 + NOISE * NOISE);
        isShare(ERRORS.of(reading(200, 0.3, false, 0), LIMITS), 1 / u, 0.4 / u, 0);
    }

    /** A quarter of the way in ln|Z|: |Z|·(0.75·1/200 + 0.25·2.2/250), and noise of two bands that no other reading shares. */
    @Test
    void betweenMidbandsThePartsAreThoseOfTheStraightLine() {
        double first = 220 * (0.75 / 200 + 0.25 * 2.2 / 250);
        double second = 220 * (0.75 * 0.4 / 200 + 0.25 * 0.12 / 250);
        isShare(ERRORS.of(reading(220, 3, true, 0.25), LIMITS), first / 3, second / 3, -1);
        ErrorDecomposition least = ERRORS.of(reading(220, 0.1, true, 0.25), LIMITS);
        assertThat(least.common()[0]).isCloseTo(first / Math.hypot(first, second), within(EXACT));
        assertThat(least.own()).isCloseTo(0, within(1e-7));
    }

    /** Limits known to 1 % add 2 Ω to the 2 Ω of the reading, and no other reading shares them. */
    @Test
    void uncertainLimitsMakeAReadingStandAlone() {
        double u = Math.sqrt(8);
        isShare(ERRORS.of(reading(200, 2, false, 0), new Limits(100, 300, 0.01)), 1 / u, 0.4 / u, -1);
    }

    @Test
    void withoutCovarianceNothingIsKnown() {
        ImpedanceCurve bare = new ImpedanceCurve(BANDS, List.of(value(0, 120, 160), value(1, 240, -70)), false);
        assertThat(new CommonErrors(bare).of(reading(200, 2, false, 0), LIMITS).isKnown())
                .isFalse();
    }

    /** Three lower limits and one upper one, of errors of which nothing is known: a third of the rate, and all of it (Bonferroni). */
    @Test
    void eachSideHasItsOwnNumberOfChecks() {
        ImpedanceCurve bare = new ImpedanceCurve(BANDS, List.of(value(0, 120, 160), value(1, 240, -70)), false);
        LimitedReading low = new LimitedReading(reading(200, 2, false, 0), Limits.exact(100, Double.POSITIVE_INFINITY));
        LimitedReading both = new LimitedReading(reading(200, 2, false, 0), LIMITS);
        FamilywiseRates rates = FamilywiseRates.of(bare, List.of(List.of(low, low, both)), 0.025)
                .get(0);
        assertThat(rates.low()).isCloseTo(0.025 / 3, within(1e-6));
        assertThat(rates.high()).isCloseTo(0.025, within(1e-6));
    }
}
