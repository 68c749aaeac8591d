package ohmprint.impedance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Random draws against JCGM 101:2008, 9.2, and JCGM 102:2011, 9.2. */
class PolarDistributionTest {
    private static final int DRAWS = 400_000;

    @Test
    void anUncorrelatedPointNearTheOriginGivesTheValuesOfSupplementTwo() {
        // JCGM 102:2011, 9.2: re = 0.001, im = 0, u = 0.01 each, r = 0: modulus 0.013, u 0.007; phase u 1.744 rad
        PolarDistribution polar = PolarDistribution.of(0.001, 0, PlaneCovariance.circular(0.01), 20261, DRAWS);

        assertThat(polar.modulusOhm().mean()).isCloseTo(0.013, within(5e-4));
        assertThat(polar.modulusOhm().standardUncertainty()).isCloseTo(0.007, within(5e-4));
        assertThat(polar.phaseRad().standardUncertainty()).isCloseTo(1.744, within(0.005));
    }

    @Test
    void aCorrelatedPointGivesTheValuesOfSupplementTwo() {
        // JCGM 102:2011, 9.2: re = 0.01, im = 0, u = 0.01 each, r = 0.9: modulus 0.015, u 0.008; phase −0.343, u 0.903
        PlaneCovariance c = new PlaneCovariance(1e-4, 1e-4, 0.9e-4);
        PolarDistribution polar = PolarDistribution.of(0.01, 0, c, 20262, DRAWS);

        assertThat(polar.modulusOhm().mean()).isCloseTo(0.015, within(5e-4));
        assertThat(polar.modulusOhm().standardUncertainty()).isCloseTo(0.008, within(5e-4));
        assertThat(polar.phaseRad().mean()).isCloseTo(-0.343, within(0.005));
        assertThat(polar.phaseRad().standardUncertainty()).isCloseTo(0.903, within(0.005));
    }

    @Test
    void farFromTheOriginTheDrawsAgreeWithFirstOrderPropagation() {
        PlaneCovariance c = new PlaneCovariance(4, 1, -1.2);
        PolarDistribution polar = PolarDistribution.of(200, 100, c, 7, DRAWS);

        double u = c.modulusUncertainty(200, 100);
        assertThat(polar.modulusOhm().standardUncertainty()).isCloseTo(u, within(0.01 * u));
        assertThat(polar.modulusOhm().high95() - polar.modulusOhm().low95()).isCloseTo(3.92 * u, within(0.05 * u));
        double uPhase = c.phaseUncertainty(200, 100);
        assertThat(polar.phaseRad().standardUncertainty()).isCloseTo(uPhase, within(0.01 * uPhase));
    }

    @Test
    void aNegativeResistanceDoesNotTearThePhaseApartAtHalfATurn() {
        PlaneCovariance c = PlaneCovariance.circular(1);
        PolarDistribution polar = PolarDistribution.of(-100, 0.1, c, 8, DRAWS);

        assertThat(polar.phaseRad().standardUncertainty()).isCloseTo(0.01, within(1e-4));
    }

    @Test
    void theSameSeedGivesTheSameDraws() {
        PlaneCovariance c = PlaneCovariance.circular(1);

        assertThat(PolarDistribution.of(2, 1, c, 5, 1000)).isEqualTo(PolarDistribution.of(2, 1, c, 5, 1000));
        assertThat(PolarDistribution.of(2, 1, c, 5, 1000)).isNotEqualTo(PolarDistribution.of(2, 1, c, 6, 1000));
    }

    @Test
    void whatIsNoCovarianceIsRefused() {
        assertThatThrownBy(() -> PolarDistribution.of(1, 1, new PlaneCovariance(1, 1, 1.1), 1, 1000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("correlation lies within ±1");
        assertThatThrownBy(() -> PolarDistribution.of(1, 1, PlaneCovariance.ZERO, 1, 50))
                .hasMessageContaining("draw more often");
    }

    @Test
    void theSumOfFourNormalQuantitiesHasTheIntervalOfSupplementOne() {
        // JCGM 101:2008, 9.2.2: u = 2.0, 95 % interval ±3.92
        SplittableRandom random = new SplittableRandom(9);
        double[] sums = new double[DRAWS];
        for (int i = 0; i < DRAWS; i++) {
            sums[i] = random.nextGaussian() + random.nextGaussian() + random.nextGaussian() + random.nextGaussian();
        }
        DrawSummary sum = DrawSummary.of(sums);

        assertThat(sum.mean()).isCloseTo(0, within(0.02));
        assertThat(sum.standardUncertainty()).isCloseTo(2.0, within(0.01));
        assertThat((sum.high95() - sum.low95()) / 2).isCloseTo(3.92, within(0.02));
    }

    @Test
    void theSumOfFourRectangularQuantitiesHasTheIntervalOfSupplementOne() {
        // JCGM 101:2008, 9.2.3: u = 1 each, 95 % interval ±3.88
        SplittableRandom random = new SplittableRandom(10);
        double h = Math.sqrt(3);
        double[] sums = new double[DRAWS];
        for (int i = 0; i < DRAWS; i++) {
            sums[i] = random.nextDouble(-h, h)
                    + random.nextDouble(-h, h)
                    + random.nextDouble(-h, h)
                    + random.nextDouble(-h, h);
        }
        DrawSummary sum = DrawSummary.of(sums);

        assertThat(sum.standardUncertainty()).isCloseTo(2.0, within(0.01));
        assertThat((sum.high95() - sum.low95()) / 2).isCloseTo(3.88, within(0.015));
    }
}
