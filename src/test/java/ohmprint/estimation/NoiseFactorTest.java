package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.Random;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.distribution.TDistribution;
import org.apache.commons.math3.stat.descriptive.SummaryStatistics;
import org.apache.commons.math3.stat.descriptive.moment.Variance;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The observed over the stated noise: right on average where bins are correlated, and known as well as it says. */
@Tag("slow")
class NoiseFactorTest {
    private static final double VARIANCE = 1e-5;
    private static final int BLOCKS = 20;
    private static final double NORMAL = 1.959963984540054;
    private static final LoadedTakes TAKES = CircuitBins.resistorsOnly(150, 1500);

    /**
     * The response to a reference by {@value #BLOCKS} Hann-windowed blocks, {@code D = h + Σ n·r*∕Σ|r|²}, r and n such spectra of
     * white noises: {@code (−b_{i−1} + 2·b_i − b_{i+1})/√6} of independent bins b. Neighbouring values of D share ρ² = 4/9, the next
     * but one 1/36, so that 18/35 of the bins count, as is stated. Then the observed noise is the stated one, and the interval of |Z|
     * holds the truth in 95 %. Source of the window's spectrum: F. J. Harris, Proc. IEEE 66 (1978) 51 (from memory); the shares
     * follow from it.
     */
    @Test
    void correlatedBinsAreNotCountedAsIndependent() {
        int sessions = 400;
        double[] hz = new double[400];
        Arrays.setAll(hz, i -> 900 + 0.5 * i);
        FrequencyBands bands = FrequencyBands.within(12, 900, 1100);
        int middle = bands.size() / 2;
        CoherentSolver solver = new CoherentSolver(bands, new Priors(0, 0));
        int inside = 0;
        double square = 0;
        SummaryStatistics scale = new SummaryStatistics();
        for (int s = 0; s < sessions; s++) {
            CurveEstimate estimate = solver.solve(referenced(hz, CircuitBins.seeded(s)), TAKES);
            BandValue v = estimate.values().get(middle);
            double error = v.magnitudeOhm() - 200;
            inside += Math.abs(error) <= v.magnitudeU95Ohm() ? 1 : 0;
            square += Math.pow(NORMAL * error / v.magnitudeU95Ohm(), 2) / sessions;
            scale.addValue(estimate.noiseScale()[middle]);
        }
        assertThat(scale.getMean()).as("observed over stated noise").isCloseTo(1, within(0.05));
        assertThat((double) inside / sessions).isCloseTo(0.95, within(3 * Math.sqrt(0.95 * 0.05 / sessions)));
        assertThat(Math.sqrt(square)).as("error over stated").isCloseTo(1, withinPercentage(10));
    }

    private static BinObservations referenced(double[] hz, Random random) {
        BinObservations obs = new BinObservations(2, hz, 18.0 / 35);
        obs.noiseHoldsOnAverage();
        double[][] crossRe = new double[2][hz.length];
        double[][] crossIm = new double[2][hz.length];
        double[][] power = new double[2][hz.length];
        for (int k = 0; k < 2; k++) {
            for (int b = 0; b < BLOCKS; b++) {
                double[] rRe = hann(hz.length, random);
                double[] rIm = hann(hz.length, random);
                double[] nRe = hann(hz.length, random);
                double[] nIm = hann(hz.length, random);
                for (int i = 0; i < hz.length; i++) {
                    crossRe[k][i] += nRe[i] * rRe[i] + nIm[i] * rIm[i];
                    crossIm[k][i] += nIm[i] * rRe[i] - nRe[i] * rIm[i];
                    power[k][i] += rRe[i] * rRe[i] + rIm[i] * rIm[i];
                }
            }
        }
        double[] model = {1 / (1 + 200 / 150.0), 1 / (1 + 200 / 1500.0)};
        double sd = Math.sqrt(VARIANCE);
        for (int i = 0; i < hz.length; i++) {
            double[] re = new double[2];
            double[] im = new double[2];
            for (int k = 0; k < 2; k++) {
                re[k] = model[k] + sd * crossRe[k][i] / power[k][i];
                im[k] = sd * crossIm[k][i] / power[k][i];
                obs.setNoise(i, k, VARIANCE / power[k][i]);
            }
            obs.setSnapshot(i, re, im);
        }
        return obs;
    }

    /** One part of the spectrum of white noise of complex variance 1. */
    private static double[] hann(int bins, Random random) {
        double[] b = new double[bins + 2];
        Arrays.setAll(b, i -> Math.sqrt(0.5) * random.nextGaussian());
        double[] out = new double[bins];
        for (int i = 0; i < bins; i++) {
            out[i] = (-b[i] + 2 * b[i + 1] - b[i + 2]) / Math.sqrt(6);
        }
        return out;
    }

    /**
     * Bins so far apart that every band borrows. The noise factor scatters from session to session as χ²/ν does, of relative
     * variance 2/ν; the factor k = U95/u that is stated has to be Student's of that ν.
     */
    @Test
    void borrowedBinsAreCountedOnce() {
        int sessions = 3000;
        FrequencyBands bands = FrequencyBands.within(12, 200, 800);
        // Some one and a half bins in a band.
        double[] hz = CircuitBins.frequencies(150, 1100, 52);
        CoherentSolver solver = new CoherentSolver(bands, new Priors(0, 0));
        int middle = bands.size() / 2;
        double[] scale = new double[sessions];
        double stated = 0;
        for (int s = 0; s < sessions; s++) {
            BinObservations obs = CircuitBins.of(CircuitBins.constant(200, 0), TAKES, VARIANCE)
                    .noisy(CircuitBins.seeded(s), hz);
            CurveEstimate estimate = solver.solve(obs, TAKES);
            scale[s] = estimate.noiseScale()[middle];
            BandValue v = estimate.values().get(middle);
            stated += v.magnitudeU95Ohm()
                    / v.covariance().modulusUncertainty(v.resistanceOhm(), v.reactanceOhm())
                    / sessions;
        }
        double mean = Arrays.stream(scale).average().orElseThrow();
        double freedom = 2 * mean * mean / new Variance().evaluate(scale);
        double student = new TDistribution(null, freedom).inverseCumulativeProbability(0.975);
        assertThat(mean).isCloseTo(1, within(0.02));
        assertThat(stated).as("k for ν = %.1f", freedom).isCloseTo(student, within(0.015));
    }
}
