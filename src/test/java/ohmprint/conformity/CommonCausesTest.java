package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import ohmprint.conformity.Specification.MaskRange;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.uncertainty.CoverageFactor;
import org.junit.jupiter.api.Test;

/** The allowance for many checks on curves that tell what the errors of their bands have in common. */
class CommonCausesTest extends CommonErrorCurves {
    /** Python's {@code NormalDist().inv_cdf(0.975 ** (1 / 34))} and {@code inv_cdf(1 - 0.025 / 34)}. */
    private static final double SIDAK_34 = 3.176872;

    private static final double BONFERRONI_34 = 3.180426;

    /** One error in all bands is as one check; independent ones take the closed form of Šidák for 34; unknown ones Bonferroni. */
    @Test
    void theAllowanceGoesFromNoneToThatOfIndependentErrors() {
        assertThat(factor(decide(mask(240, 360), curve(hz -> 300, 1)), 0)).isBetween(1.96, 1.99);
        double half = factor(decide(mask(240, 360), curve(hz -> 300, 0.9)), 0);
        assertThat(half).isBetween(2.3, 2.8);
        assertThat(BANDS.size()).isEqualTo(34);
        assertThat(factor(decide(mask(240, 360), curve(hz -> 300, 0)), 0)).isCloseTo(SIDAK_34, within(2e-4));
        assertThat(factor(decide(mask(240, 360), withoutCovariance(curve(hz -> 300, 0.9))), 0))
                .isCloseTo(BONFERRONI_34, within(1e-4));
    }

    @Test
    void aCommonErrorDecidesWhatUnknownOnesLeaveOpen() {
        // 2.3 u below the limit in all bands.
        ImpedanceCurve low = curve(hz -> 240 - 2.3 * U, 0.99);
        assertThat(decide(mask(240, 360), low).conformity()).isEqualTo(Conformity.OUTSIDE);
        assertThat(decide(mask(240, 360), withoutCovariance(low)).conformity()).isEqualTo(Conformity.UNDECIDED);
        assertThat(FaultPatterns.of(mask(240, 360), Curves.ribbon(low), decide(mask(240, 360), low)))
                .isNotEmpty();
    }

    /** Limits to one side in one half and to the other side in the other half: fewer checks to a side, less allowance. */
    @Test
    void onlyChecksOfTheSameSideCount() {
        Specification halves = Curves.mask(
                new MaskRange(200, 1400, 240, Double.POSITIVE_INFINITY), new MaskRange(1400, 10_000, 0, 360));
        ImpedanceCurve unknown = withoutCovariance(curve(hz -> 300, 0));
        double all = factor(decide(mask(240, 360), unknown), 0);
        double half = factor(decide(halves, unknown), 0);
        assertThat(all).isCloseTo(CoverageFactor.oneSided(RATE / 34), within(1e-6));
        assertThat(half).isCloseTo(CoverageFactor.oneSided(RATE / 17), within(1e-6));
    }

    /** The same band in two requirements errs once: two masks in one need nothing more than one. */
    @Test
    void theSameBandTwiceCostsNothing() {
        Specification twice = Curves.mask(new MaskRange(200, 10_000, 240, 360), new MaskRange(200, 10_000, 240, 360));
        assertThat(factor(decide(twice, curve(hz -> 300, 0.5)), 0))
                .isCloseTo(factor(decide(mask(240, 360), curve(hz -> 300, 0.5)), 0), within(1e-3));
    }
}
