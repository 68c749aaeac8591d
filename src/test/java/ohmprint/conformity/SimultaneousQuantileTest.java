package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import ohmprint.conformity.CommonErrors.ErrorDecomposition;
import ohmprint.conformity.SimultaneousQuantile.LogPhiTable;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.special.Erf;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** The greatest of many correlated errors against published tables, another program's integrals, and draws. */
class SimultaneousQuantileTest {
    private static final double RATE = FamilywiseRates.SIDE_RATE;
    /** Absolute error of a threshold; 1 % of the rate is 0.004 at 1.96 and 0.003 at 3. */
    private static final double THRESHOLD_ERROR = 0.002;

    /** A row of shared parts as an error that no other reading has. */
    private static ErrorDecomposition share(double... common) {
        double left = 1;
        for (double a : common) {
            left -= a * a;
        }
        return new ErrorDecomposition(common, Math.sqrt(Math.max(0, left)), -1);
    }

    private static double threshold(List<ErrorDecomposition> errors, double rate) {
        double bonferroni = SimultaneousQuantile.factor(rate / errors.size());
        double[] all = new double[errors.size()];
        Arrays.fill(all, bonferroni);
        return bonferroni - SimultaneousQuantile.of(errors).lowering(all, rate);
    }

    private static List<ErrorDecomposition> equal(int n, double correlation) {
        return Collections.nCopies(n, share(Math.sqrt(correlation)));
    }

    /**
     * Upper 5 % and 1 % points of the greatest of p normal variables with the correlation 1/2: one-sided comparison with a
     * control for infinite degrees of freedom, Dunnett 1955, J. Am. Stat. Assoc. 50, 1096, table 1 (from memory).
     */
    @ParameterizedTest
    @CsvSource({"1, 1.64, 2.33", "2, 1.92, 2.56", "3, 2.06, 2.68", "4, 2.16, 2.77", "5, 2.23, 2.84", "9, 2.42, 3.00"})
    void asInTheTableOfDunnett(int p, double five, double one) {
        assertThat(threshold(equal(p, 0.5), 0.05)).isCloseTo(five, within(0.0051 + THRESHOLD_ERROR));
        assertThat(threshold(equal(p, 0.5), 0.01)).isCloseTo(one, within(0.0051 + 2 * THRESHOLD_ERROR));
    }

    static Stream<Arguments> integrated() throws IOException {
        return Files.readAllLines(Path.of("fixtures/check/maximum.csv")).stream()
                .skip(1)
                .map(line -> Arguments.of((Object[]) line.split(",", 6)));
    }

    /** Quantiles by scipy.stats.multivariate_normal and by quadrature; fixtures/make/maximum.py. */
    @ParameterizedTest(name = "{0}, rate {1}, {3} variables, {4} causes")
    @MethodSource("integrated")
    void asByAnotherProgram(String name, double rate, double quantile, int count, int causes, String shared) {
        double[] parts = Arrays.stream(shared.split(","))
                .mapToDouble(Double::parseDouble)
                .toArray();
        List<ErrorDecomposition> errors = new ArrayList<>();
        for (int at = 0; at < parts.length; at += causes) {
            errors.add(share(Arrays.copyOfRange(parts, at, at + causes)));
        }
        assertThat(errors).as(name).hasSize(count);
        assertThat(threshold(errors, rate)).isCloseTo(quantile, within(THRESHOLD_ERROR));
    }

    /** Independent errors: the quantile of Šidák, Φ⁻¹((1 − 0.025)^(1/N)), by Python's statistics.NormalDist. */
    @ParameterizedTest
    @CsvSource({"2, 2.2389644", "10, 2.8033703", "120, 3.5259799"})
    void independentErrorsGiveTheClosedForm(int n, double sidak) {
        assertThat(threshold(equal(n, 0), RATE)).isCloseTo(sidak, within(2e-4));
    }

    @Test
    void oneErrorForAllNeedsNoAllowance() {
        assertThat(threshold(equal(120, 1), RATE)).isCloseTo(CoverageFactor.NORMAL, within(0.03));
        List<ErrorDecomposition> oneBand =
                Collections.nCopies(120, new ErrorDecomposition(new double[] {0.6}, 0.8, 17));
        assertThat(threshold(oneBand, RATE)).isCloseTo(CoverageFactor.NORMAL, within(1e-4));
    }

    @Test
    void nothingKnownMeansBonferroni() {
        List<ErrorDecomposition> errors = new ArrayList<>(Collections.nCopies(10, ErrorDecomposition.UNKNOWN));
        assertThat(threshold(errors, RATE)).isCloseTo(SimultaneousQuantile.factor(RATE / 10), within(1e-9));
        errors.addAll(equal(20, 1));
        // Ten for themselves and twenty that are as good as one.
        assertThat(threshold(errors, RATE)).isCloseTo(SimultaneousQuantile.factor(RATE / 11), within(0.01));
    }

    @Test
    void opposedErrorsNeedAsMuchAsBonferroniAndNoMore() {
        List<ErrorDecomposition> errors = List.of(share(0.999), share(-0.999));
        double bonferroni = SimultaneousQuantile.factor(RATE / 2);
        assertThat(threshold(errors, RATE)).isLessThanOrEqualTo(bonferroni).isCloseTo(bonferroni, within(1e-3));
    }

    /** However far the thresholds are, the integral is never above the sum of the single probabilities (Boole's inequality). */
    @Test
    void theProbabilityIsNeverAboveTheSumOfTheSingleOnes() {
        for (double size = 0.05; size < 1; size += 0.05) {
            List<ErrorDecomposition> errors =
                    List.of(share(size, 0, 0, 0, 0), share(0, 0, 0, 0, -size), share(0, size, -0.01, 0, 0));
            for (double t = 2; t <= 4.5; t += 0.25) {
                double sum = 3 * SimultaneousQuantile.tail(t);
                assertThat(SimultaneousQuantile.of(errors).exceedance(new double[] {t, t, t}))
                        .as("parts of %.2f beyond %.2f", size, t)
                        .isBetween(0.8 * sum, sum);
            }
        }
    }

    /** Draws of random errors with up to eight causes exceed the threshold at the rate, and it is never above Bonferroni. */
    @Test
    void drawsExceedTheThresholdAtTheRate() {
        SplittableRandom random = new SplittableRandom(5);
        int draws = 40_000;
        double chance = 3.5 * Math.sqrt(RATE * (1 - RATE) / draws);
        for (int causes = 1; causes <= 8; causes++) {
            int n = 5 + random.nextInt(60);
            List<ErrorDecomposition> errors = new ArrayList<>();
            for (int i = 0; i < n; i++) {
                double[] row = random.doubles(causes, -0.3, 1).toArray();
                double size = (0.3 + 0.699 * random.nextDouble())
                        / Math.sqrt(Arrays.stream(row).map(a -> a * a).sum());
                errors.add(share(Arrays.stream(row).map(a -> a * size).toArray()));
            }
            double threshold = threshold(errors, RATE);
            assertThat(threshold).isBetween(CoverageFactor.NORMAL, SimultaneousQuantile.factor(RATE / n));
            int count = 0;
            for (int d = 0; d < draws; d++) {
                double[] x = new double[causes];
                Arrays.setAll(x, k -> random.nextGaussian());
                count += greatest(errors, x, random) > threshold ? 1 : 0;
            }
            assertThat(count / (double) draws).as(causes + " causes").isCloseTo(RATE, within(chance));
        }
    }

    private static double greatest(List<ErrorDecomposition> errors, double[] x, SplittableRandom random) {
        double greatest = Double.NEGATIVE_INFINITY;
        for (ErrorDecomposition error : errors) {
            double value = error.own() * random.nextGaussian();
            for (int k = 0; k < x.length; k++) {
                value += error.common()[k] * x[k];
            }
            greatest = Math.max(greatest, value);
        }
        return greatest;
    }

    @Test
    void theTableOfLogarithmsIsExact() {
        for (double x = -7.99; x < 10; x += 0.0137) {
            double exact = Math.log(Erf.erfc(-x / Math.sqrt(2)) / 2);
            assertThat(LogPhiTable.at(x)).isCloseTo(exact, within(1e-8));
        }
        assertThat(LogPhiTable.at(-50)).isLessThan(-35);
        assertThat(LogPhiTable.at(Double.NEGATIVE_INFINITY)).isLessThan(-35);
        assertThat(LogPhiTable.at(Double.POSITIVE_INFINITY)).isZero();
    }
}
