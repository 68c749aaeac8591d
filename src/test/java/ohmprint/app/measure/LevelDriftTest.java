package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.SplittableRandom;
import org.apache.commons.math3.distribution.TDistribution;
import org.junit.jupiter.api.Test;

/** How far gains scatter, from one repeat and a belief. */
class LevelDriftTest {
    private static final double BELIEVED = 0.0005;
    private static final int SESSIONS = 20_000;

    @Test
    void withoutARepeatTheBeliefIsTakenForKnown() {
        LevelDrift scatter = LevelDrift.believed(BELIEVED).with(RepeatDrift.NONE);
        assertThat(scatter.relative()).isEqualTo(0.0005);
        assertThat(scatter.freedom()).isInfinite();
    }

    /** Scale of the scaled inverse χ² posterior, (3·u₀² + r²/2)/4: Gelman et al., Bayesian Data Analysis, 2.6 (from memory). */
    @Test
    void aRepeatThatFitsTheBeliefCountsAsOneObservationMore() {
        double r = 0.001;
        LevelDrift scatter = LevelDrift.believed(BELIEVED).with(once(r));
        assertThat(scatter.freedom()).isEqualTo(4);
        assertThat(scatter.relative()).isCloseTo(Math.sqrt((3 * BELIEVED * BELIEVED + r * r / 2) / 4), within(1e-12));
    }

    /** Far from the belief the repeat decides: (3·u₀² + r²/2)/4 → r²/8, Student's t of 4 degrees, 2.776 (JCGM 100:2008, table G.2). */
    @Test
    void aRepeatFarFromTheBeliefDecides() {
        double r = 0.2;
        LevelDrift scatter = LevelDrift.believed(BELIEVED).with(once(r));
        assertThat(scatter.relative()).isCloseTo(r / Math.sqrt(8), within(0.001 * r));
        assertThat(new TDistribution(null, scatter.freedom()).inverseCumulativeProbability(0.975))
                .isCloseTo(2.776, within(0.001));
    }

    @Test
    void whatTheTakesLeaveOverIsALeastValue() {
        LevelDrift scatter = LevelDrift.believed(0.001).atLeast(0.003);
        assertThat(scatter.relative()).isEqualTo(0.003);
        assertThat(LevelDrift.believed(0.001).atLeast(0.0001).relative()).isEqualTo(0.001);
        LevelDrift repeated = LevelDrift.believed(0.001).with(once(0.0005));
        assertThat(repeated.atLeast(0.0001)).as("what a repeat tells stays").isEqualTo(repeated);
        assertThat(repeated.atLeast(0.003).freedom())
                .as("many bins tell what they leave over")
                .isInfinite();
    }

    /**
     * A larger misfit asks for a wider interval, {@code t(ν)·u} of the quantile of JCGM 100:2008, G.3: at least what is needed for
     * known (1.96 times it), at least what belief and repeat give without it, and never falling.
     */
    @Test
    void moreMisfitNeverNarrowsTheInterval() {
        LevelDrift repeated = LevelDrift.believed(0.001).with(once(0.002));
        double before = 0;
        for (double needed = 0; needed < 3 * repeated.relative(); needed += 0.01 * repeated.relative()) {
            double half = half(repeated.atLeast(needed));
            assertThat(half)
                    .as("needed %s", needed)
                    .isGreaterThanOrEqualTo(before)
                    .isGreaterThanOrEqualTo(half(repeated))
                    .isGreaterThanOrEqualTo(1.9599 * needed);
            before = half;
        }
    }

    private static double half(LevelDrift scatter) {
        return scatter.relative()
                * (Double.isInfinite(scatter.freedom())
                        ? 1.959964
                        : new TDistribution(null, scatter.freedom()).inverseCumulativeProbability(0.975));
    }

    /**
     * Three gains, each anywhere within ± 0.025 dB or normal with the same standard deviation: the middle one against the mean of
     * the others, interval t(ν)·√1.5·u. That is 3.3 times what is believed; with twice and five times as much the
     * interval grows with what the repeat shows.
     */
    @Test
    void intervalsOfIndependentGainsHoldThemOnASteadyBenchAndMoreOrLessOnOthers() {
        double sd = 0.05 * Math.log(10) / 20 / Math.sqrt(12);
        assertThat(coverage(sd, true)).isBetween(0.73, 0.77);
        assertThat(coverage(sd, false)).isBetween(0.74, 0.78);
        assertThat(coverage(2 * sd, true)).isBetween(0.64, 0.68);
        assertThat(coverage(5 * sd, true)).isBetween(0.60, 0.64);
        assertThat(coverage(BELIEVED, false)).isGreaterThan(0.98);
    }

    private static double coverage(double sd, boolean even) {
        SplittableRandom random = new SplittableRandom(11);
        int inside = 0;
        for (int i = 0; i < SESSIONS; i++) {
            double[] g = new double[3];
            for (int k = 0; k < 3; k++) {
                g[k] = sd * (even ? Math.sqrt(12) * (random.nextDouble() - 0.5) : random.nextGaussian());
            }
            LevelDrift scatter = LevelDrift.believed(BELIEVED).with(once(g[2] - g[0]));
            double half = new TDistribution(null, scatter.freedom()).inverseCumulativeProbability(0.975)
                    * Math.sqrt(1.5)
                    * scatter.relative();
            inside += Math.abs(g[1] - (g[0] + g[2]) / 2) <= half ? 1 : 0;
        }
        return (double) inside / SESSIONS;
    }

    private static RepeatDrift once(double logRatio) {
        return new RepeatDrift(logRatio / 2, logRatio * logRatio / 2, 1, List.of());
    }
}
