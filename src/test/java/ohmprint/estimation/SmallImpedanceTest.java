package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.SplittableRandom;
import ohmprint.estimation.BandSolver.BandFit;
import ohmprint.estimation.Nuisance.PosteriorCauses;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Bands whose |Z| is a few standard uncertainties: intervals by draws. */
@Tag("slow")
class SmallImpedanceTest {
    private static final int SESSIONS = 300;
    private static final double PHASE = 0.6;
    /** 95 % of the turns of a circular normal error of u at |Z| = 3u; its density integrated with scipy 1.17.1. */
    private static final double TURN_AT_THREE = 0.7110;

    /** First order gives 1.96/3 = 0.653 rad. */
    @Test
    void theDrawnPhaseIsThatOfTheDistribution() {
        BandValue v = stated(3, 0);
        assertThat(v.byDraws()).isTrue();
        assertThat(v.phaseU95Rad()).isCloseTo(TURN_AT_THREE, within(0.02 * TURN_AT_THREE));
    }

    @Test
    void farFromTheOriginNothingIsDrawn() {
        BandValue v = stated(6, 0);
        assertThat(v.byDraws()).isFalse();
        assertThat(v.phaseU95Rad()).isCloseTo(1.96 / 6, within(1e-3));
    }

    @Test
    void theSameBandGivesTheSameInterval() {
        assertThat(stated(3, 0)).isEqualTo(stated(3, 0));
    }

    @Test
    void aBandThatReachesTheOriginIsRejected() {
        assertThat(stated(1, 0).status()).isEqualTo(BandStatus.REJECTED);
    }

    /** |Z| in units of the standard uncertainty of either part; bands that are rejected say nothing. */
    @ParameterizedTest
    @ValueSource(doubles = {3, 4})
    void drawnIntervalsHoldTheTruthAsOftenAsTheySay(double size) {
        SplittableRandom random = new SplittableRandom(31);
        int phase = 0;
        int linear = 0;
        int magnitude = 0;
        int counted = 0;
        for (int s = 0; s < SESSIONS; s++) {
            double r = size * Math.cos(PHASE) + random.nextGaussian();
            double x = size * Math.sin(PHASE) + random.nextGaussian();
            BandValue v = stated(r, x);
            if (v.isMeasured()) {
                counted++;
                double turn = Math.abs(Math.IEEEremainder(v.phaseRad() - PHASE, 2 * Math.PI));
                phase += turn <= v.phaseU95Rad() ? 1 : 0;
                linear += turn <= 1.96 / v.magnitudeOhm() ? 1 : 0;
                magnitude += Math.abs(v.magnitudeOhm() - size) <= v.magnitudeU95Ohm() ? 1 : 0;
            }
        }
        double allowed = 3 * Math.sqrt(0.05 * 0.95 / counted);
        assertThat((double) phase / counted).as("phase, of %d", counted).isCloseTo(0.95, within(allowed));
        assertThat((double) magnitude / counted).as("|Z|").isCloseTo(0.95, within(allowed));
        assertThat(linear).as("phases that first order would hold").isLessThan(phase);
    }

    /** Few degrees of freedom widen the draws by t(8)/1.96 = 2.306/1.96, JCGM 100:2008, table G.2: as much noise would too. */
    @Test
    void fewDegreesOfFreedomWidenWhatIsDrawn() {
        double w = 2.306 / 1.96;
        BandValue few = stated(4 * Math.cos(PHASE), 4 * Math.sin(PHASE), 1, 8);
        BandValue noisy = stated(4 * Math.cos(PHASE), 4 * Math.sin(PHASE), w, 1e9);
        BandValue known = stated(4 * Math.cos(PHASE), 4 * Math.sin(PHASE), 1, 1e9);
        assertThat(few.byDraws()).isTrue();
        assertThat(few.magnitudeU95Ohm()).isCloseTo(noisy.magnitudeU95Ohm(), within(0.002));
        assertThat(few.phaseU95Rad()).isCloseTo(noisy.phaseU95Rad(), within(0.002));
        assertThat(few.magnitudeU95Ohm()).isGreaterThan(1.1 * known.magnitudeU95Ohm());
    }

    /** What is stated for R and X in units of their standard uncertainty, with noise alone. */
    private static BandValue stated(double r, double x) {
        return stated(r, x, 1, 1e9);
    }

    private static BandValue stated(double r, double x, double noise, double freedom) {
        BandFit fit =
                new BandFit(1000, r, x, noise * noise, 0, 1e9, 1, 1e9, 1e4, 0, 100, 100, new double[0], new double[0]);
        PosteriorCauses none = new PosteriorCauses(List.of(), CircuitBins.resistorsOnly(150, 1500), null);
        return new BandUncertainty(none, Double.POSITIVE_INFINITY).of(fit, 1, freedom);
    }
}
