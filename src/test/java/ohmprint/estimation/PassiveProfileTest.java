package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.Random;
import ohmprint.circuit.Divider;
import ohmprint.impedance.ImpedanceOutline;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PassiveProfileTest {
    /** Step of the finest grid of ln|Z| and of 3° of phase, in percent of |Z|; R moves with the phase. */
    private static final double GRID_PERCENT = 0.3;

    private static final double RESISTANCE_GRID_PERCENT = 2.5;
    private static final double[] LOADS = {100, 300, 1500};
    private static final int SESSIONS = 600;

    // Magnitudes only, 100/300/1500 Ω, Z = 150 + j62.8319 Ω: R = 150, |Z|² = 26447.84. Closed form, recomputed with
    // numpy.
    @Test
    void exactMagnitudesOfThreeLoadsGiveModulusAndResistance() {
        PassiveProfile profile = profile(new Complex(150, 62.8319), LOADS, 1e-5, null);
        assertThat(profile.magnitudeOhm()).isCloseTo(Math.sqrt(26447.84), withinPercentage(GRID_PERCENT));
        assertThat(profile.resistanceOhm()).isCloseTo(150, withinPercentage(RESISTANCE_GRID_PERCENT));
        assertThat(profile.lowOhm()).isLessThan(Math.sqrt(26447.84));
        assertThat(profile.highOhm()).isGreaterThan(Math.sqrt(26447.84));
    }

    @ParameterizedTest
    @CsvSource({"50, 20", "200, 0", "200, -150", "600, 300", "20, 400"})
    void recoversOtherSourcesFromFourLoads(double re, double im) {
        Complex z = new Complex(re, im);
        PassiveProfile profile = profile(z, new double[] {100, 220, 680, 3000}, 1e-5, null);
        assertThat(profile.magnitudeOhm()).isCloseTo(z.abs(), withinPercentage(2 * GRID_PERCENT));
    }

    @Test
    void theSignOfTheReactanceMakesNoDifference() {
        assertThat(profile(new Complex(150, 80), LOADS, 1e-6, null).magnitudeOhm())
                .isEqualTo(profile(new Complex(150, -80), LOADS, 1e-6, null).magnitudeOhm());
    }

    /** Wilks' interval is approximate and the limits R ≥ 0, X² ≥ 0 make it cautious: not below 95 % less three sigma. */
    @ParameterizedTest
    @CsvSource({"150, 62.8319", "200, 0", "100, 150"})
    void theRangeHoldsTheTruthOftenEnough(double re, double im) {
        Complex z = new Complex(re, im);
        int hits = 0;
        for (long seed = 0; seed < SESSIONS / 4; seed++) {
            PassiveProfile p = profile(z, LOADS, 1e-4, CircuitBins.seeded(seed));
            hits += p.lowOhm() <= z.abs() && z.abs() <= p.highOhm() ? 1 : 0;
        }
        double n = SESSIONS / 4.0;
        assertThat(hits / n)
                .as("coverage, seeds 0 to %d", (int) n - 1)
                .isGreaterThanOrEqualTo(0.95 - 3 * Math.sqrt(0.95 * 0.05 / n));
    }

    /**
     * The range of the loss into 600 Ω over the outline, by R and |Z|, holds that of the true source: 300 drawn sessions, not
     * below 95 % less three sigma. |Z| with R as it is estimated holds it less often.
     */
    @ParameterizedTest
    @CsvSource({"150, 62.8319", "100, 150", "120, 300"})
    void whatFollowsFromTheOutlineHoldsTheTruthOftenEnough(double re, double im) {
        Complex z = new Complex(re, im);
        double truth = loss(re, z.abs());
        double variance = 4e-4;
        int hits = 0;
        int plain = 0;
        int n = 300;
        for (long seed = 0; seed < n; seed++) {
            double[] g = {1 / 100.0, 1 / 300.0, 1 / 1500.0};
            Random random = CircuitBins.seeded(seed);
            double[] level = Arrays.stream(g)
                    .map(y -> 2 * Math.log(Divider.response(z, new Complex(y)).abs())
                            + Math.sqrt(variance) * random.nextGaussian())
                    .toArray();
            double[] variances = {variance, variance, variance};
            PassiveProfile p = PassiveProfile.of(level, variances, g, new double[3], 1.959964);
            ImpedanceOutline outline = p.outline(level, variances, g, new double[3], 1.959964);
            double low = Double.POSITIVE_INFINITY;
            double high = 0;
            for (int i = 0; i < outline.magnitudeOhm().size(); i++) {
                double at = loss(
                        outline.resistanceOhm().get(i), outline.magnitudeOhm().get(i));
                low = Math.min(low, at);
                high = Math.max(high, at);
            }
            hits += low <= truth && truth <= high ? 1 : 0;
            plain += loss(p.resistanceOhm(), p.lowOhm()) <= truth && truth <= loss(p.resistanceOhm(), p.highOhm())
                    ? 1
                    : 0;
        }
        assertThat(hits / (double) n).isGreaterThanOrEqualTo(0.95 - 3 * Math.sqrt(0.95 * 0.05 / n));
        assertThat(plain).isLessThan(hits);
    }

    private static double loss(double r, double m) {
        return 1 + 2 * r / 600 + m * m / 360_000;
    }

    @Test
    void moreNoiseGivesAWiderRange() {
        PassiveProfile quiet = profile(new Complex(150, 60), LOADS, 1e-6, null);
        PassiveProfile loud = profile(new Complex(150, 60), LOADS, 1e-4, null);
        assertThat(loud.highOhm() - loud.lowOhm()).isGreaterThan(3 * (quiet.highOhm() - quiet.lowOhm()));
    }

    private static PassiveProfile profile(
            Complex z, double[] loads, double variance, @org.jspecify.annotations.Nullable Random random) {
        double[] g = Arrays.stream(loads).map(r -> 1 / r).toArray();
        double[] level = Arrays.stream(g)
                .map(y -> 2 * Math.log(Divider.response(z, new Complex(y)).abs()))
                .map(v -> random == null ? v : v + Math.sqrt(variance) * random.nextGaussian())
                .toArray();
        double[] variances = new double[g.length];
        Arrays.fill(variances, variance);
        return PassiveProfile.of(level, variances, g, new double[g.length], 1.959964);
    }
}
