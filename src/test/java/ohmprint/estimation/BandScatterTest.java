package ohmprint.estimation;

import static ohmprint.estimation.FittedBand.fit;
import static ohmprint.estimation.FittedBand.value;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Random;
import java.util.stream.Stream;
import ohmprint.estimation.BandSolver.BandFit;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Whether the values of one band scatter as little as they can, as much as is stated, and leave what noise leaves. */
class BandScatterTest {
    private static final double VARIANCE = 1e-6;
    private static final int DRAWS = 4000;
    /** Percent; the scatter of {@value #DRAWS} draws is itself known to 0.8 %. */
    private static final double SCATTER_PERCENT = 5;

    // Cramér–Rao bound E|δZ|² ≥ σ²/(|A|²·[Σ|h|²|q|² − |Σ|h|²q|²/Σ|h|²]) with q = y/(1+Zy) for Z = 200 + j100 Ω,
    // |A| = 1, σ² = 1e-6: closed form, recomputed with numpy.
    @ParameterizedTest
    @CsvSource({"150:1500, 1.2302", "100:200:500:1500, 0.9689", "1000:2000, 4.3271"})
    void statesAndReachesTheLeastPossibleScatter(String loads, double leastSd) {
        LoadedTakes takes = CircuitBins.resistorsOnly(
                Stream.of(loads.split(":")).mapToDouble(Double::parseDouble).toArray());
        Complex z = new Complex(200, 100);
        CircuitBins bins = CircuitBins.of(CircuitBins.constant(200, 100), takes, VARIANCE);
        double stated = Math.sqrt(2 * fit(bins.exact(1000), takes, 0).noiseVariance());
        assertThat(stated).isCloseTo(leastSd, within(5e-5 + 1e-5 * leastSd));
        double square = 0;
        double parts = 0;
        Random random = new Random(20260103);
        for (int draw = 0; draw < DRAWS; draw++) {
            BandFit fit = fit(bins.noisy(random, 1000), takes, 0);
            Complex error = value(fit).subtract(z);
            square += error.abs() * error.abs() / DRAWS;
            parts += fit.noiseVariance() / DRAWS;
        }
        assertThat(Math.sqrt(square))
                .as("scatter of the estimates")
                .isCloseTo(leastSd, withinPercentage(SCATTER_PERCENT));
        assertThat(Math.sqrt(2 * parts))
                .as("what the fits state")
                .isCloseTo(leastSd, withinPercentage(SCATTER_PERCENT));
    }

    // 1.614 Ω: unweighted regression of 1/D on y, same takes and noise as above; simulated with numpy.
    @Test
    void beatsTheUnweightedRegression() {
        LoadedTakes takes = CircuitBins.resistorsOnly(100, 200, 500, 1500);
        CircuitBins bins = CircuitBins.of(CircuitBins.constant(200, 100), takes, VARIANCE);
        Random random = new Random(20260104);
        double plain = 0;
        double weighted = 0;
        for (int draw = 0; draw < DRAWS; draw++) {
            BinObservations obs = bins.noisy(random, 1000);
            plain += Math.pow(
                            regression(obs, takes)
                                    .subtract(new Complex(200, 100))
                                    .abs(),
                            2)
                    / DRAWS;
            weighted += Math.pow(
                            value(fit(obs, takes, 0))
                                    .subtract(new Complex(200, 100))
                                    .abs(),
                            2)
                    / DRAWS;
        }
        assertThat(Math.sqrt(plain)).isCloseTo(1.614, withinPercentage(SCATTER_PERCENT));
        assertThat(Math.sqrt(weighted)).isLessThan(0.65 * Math.sqrt(plain));
    }

    @Test
    void manyBinsOfUnequalNoiseWeighByInverseVariance() {
        LoadedTakes takes = CircuitBins.resistorsOnly(150, 1500);
        double[] hz = CircuitBins.frequencies(950, 1050, 20);
        double quiet = fit(
                        CircuitBins.of(CircuitBins.constant(200, 100), takes, VARIANCE)
                                .exact(hz),
                        takes,
                        0)
                .noiseVariance();
        assertThat(Math.sqrt(2 * quiet * 20)).isCloseTo(1.2302, within(1e-4));
        BinObservations half =
                CircuitBins.of(CircuitBins.constant(200, 100), takes, VARIANCE).exact(hz);
        for (int i = 0; i < hz.length; i += 2) {
            half.setNoise(i, 0, 1e3);
            half.setNoise(i, 1, 1e3);
        }
        assertThat(fit(half, takes, 0).noiseVariance()).isCloseTo(2 * quiet, withinPercentage(0.1));
    }

    @Test
    void residualsOfThreeTakesHaveTheirExpectedSize() {
        LoadedTakes takes = CircuitBins.resistorsOnly(100, 300, 1500);
        double[] hz = CircuitBins.frequencies(950, 1050, 10);
        CircuitBins bins = CircuitBins.of(CircuitBins.constant(200, 50), takes, VARIANCE);
        double sum = 0;
        double freedom = 0;
        for (int seed = 0; seed < 400; seed++) {
            BandFit fit = fit(bins.noisy(CircuitBins.seeded(seed), hz), takes, 0);
            sum += fit.residual();
            freedom += fit.degreesOfFreedom();
        }
        // 10 bins × 2 − 1 complex degrees of freedom each; a mean of 7600 exponential variables is known to 1.1 %.
        assertThat(freedom).isEqualTo(400 * 19);
        assertThat(sum / freedom).isCloseTo(1, within(0.04));
    }

    /** Plain complex least squares of 1/D_k = a + b·y_k; Z = b/a. D is known up to the phase of take 0. */
    private static Complex regression(BinObservations obs, LoadedTakes takes) {
        int n = takes.size();
        double meanY = 0;
        Complex mean = Complex.ZERO;
        Complex[] inverse = new Complex[n];
        for (int k = 0; k < n; k++) {
            Complex d = new Complex(obs.re(0, k, 0), obs.im(0, k, 0)).divide(Math.sqrt(obs.re(0, 0, 0)));
            inverse[k] = d.reciprocal();
            mean = mean.add(inverse[k].divide(n));
            meanY += takes.loads().get(k).conductance() / n;
        }
        Complex top = Complex.ZERO;
        double bottom = 0;
        for (int k = 0; k < n; k++) {
            double y = takes.loads().get(k).conductance() - meanY;
            top = top.add(inverse[k].multiply(y));
            bottom += y * y;
        }
        Complex b = top.divide(bottom);
        return b.divide(mean.subtract(b.multiply(meanY)));
    }
}
