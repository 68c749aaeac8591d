package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PowerLevelsTest {
    private static final int BINS = 200;
    private static final double[] LEVELS = {0.3, -0.5, 0.2};

    @Test
    void readsLevelsExactlyThroughAnySpectrum() {
        BinObservations obs = bins(i -> Math.pow(Math.sin(0.1 * i + 0.3), 2) + 1e-3, null, 1e-9);
        assertThat(PowerLevels.byLikelihood(obs, 0, BINS).logLevel()).containsExactly(LEVELS, within(1e-6));
    }

    @Test
    void takesTheStatedNoiseOff() {
        BinObservations obs = bins(i -> 1, null, 0.5);
        assertThat(PowerLevels.byLikelihood(obs, 0, BINS).logLevel()).containsExactly(LEVELS, within(1e-6));
    }

    @Test
    void theEnergyOfTheBandGivesTheSameLevelsWhenTheTakesShareTheirSpectrum() {
        BinObservations obs = bins(i -> 1 + 0.9 * Math.sin(0.2 * i), null, 1e-9);
        PowerLevels byEnergy = PowerLevels.byEnergy(obs, 0, BINS, 0.25);
        assertThat(byEnergy.logLevel()).containsExactly(LEVELS, within(1e-6));
        assertThat(byEnergy.variance()).isEqualTo(0.25);
    }

    /** A few strong bins carry most of the energy, so that the energy scatters as if the band had only those. */
    @Test
    void anUnevenRoomCostsTheLikelihoodNothing() {
        double likelihood = 0;
        double energy = 0;
        int sessions = 300;
        for (long seed = 0; seed < sessions; seed++) {
            BinObservations obs = bins(i -> i % 20 == 0 ? 30 : 1, CircuitBins.seeded(seed), 1e-9);
            likelihood += square(PowerLevels.byLikelihood(obs, 0, BINS)) / sessions;
            energy += square(PowerLevels.byEnergy(obs, 0, BINS, 1)) / sessions;
        }
        assertThat(likelihood).as("seeds 0 to %d", sessions - 1).isLessThan(0.3 * energy);
    }

    private static double square(PowerLevels levels) {
        return Math.pow(levels.logLevel()[0] - levels.logLevel()[1] - (LEVELS[0] - LEVELS[1]), 2);
    }

    /**
     * Powers that are means of so many independent ones, as a take in so many pieces gives: the scatter of the levels over 2 000
     * drawn bands is what is stated, to 5 % (√(2/(2 000·(K−1)))/2 is 1.1 to 1.6 %). Drawn, no formula.
     */
    @ParameterizedTest
    @CsvSource({"2, 1", "2, 5", "2, 20", "3, 1", "3, 2", "3, 10", "4, 5"})
    void theStatedVarianceIsThatOfDrawnLevels(int takes, int pieces) {
        double square = 0;
        double stated = 0;
        int bands = 2000;
        Random random = CircuitBins.seeded(10 * takes + pieces);
        for (int b = 0; b < bands; b++) {
            BinObservations obs = new BinObservations(takes, CircuitBins.frequencies(900, 1100, 60), pieces);
            for (int i = 0; i < 60; i++) {
                for (int k = 0; k < takes; k++) {
                    double sum = 0;
                    for (int p = 0; p < pieces; p++) {
                        sum -= Math.log(1 - random.nextDouble()) / pieces;
                    }
                    obs.set(i, k, k, sum, 0);
                    obs.setNoise(i, k, 1e-9);
                }
            }
            PowerLevels levels = PowerLevels.byLikelihood(obs, 0, 60);
            for (double level : levels.logLevel()) {
                square += level * level / (takes - 1) / bands;
            }
            stated += levels.variance() / bands;
        }
        assertThat(Math.sqrt(stated / square)).isCloseTo(1, within(0.05));
    }

    @Test
    void anEvenSpectrumScattersLessThanRandomNoise() {
        double even = PowerLevels.byLikelihood(bins(i -> 1 + 0.5 * Math.sin(i), null, 1e-9), 0, BINS)
                .variance();
        double random = PowerLevels.byLikelihood(bins(i -> 1, CircuitBins.seeded(1), 1e-9), 0, BINS)
                .variance();
        assertThat(even).isPositive().isLessThan(0.1 * random);
    }

    /** Powers {@code c_i·m_k} times an exponential factor (Gaussian noise) or none. */
    private static BinObservations bins(
            java.util.function.IntToDoubleFunction spectrum,
            @org.jspecify.annotations.Nullable Random random,
            double noise) {
        BinObservations obs = new BinObservations(LEVELS.length, CircuitBins.frequencies(900, 1100, BINS), 1);
        for (int i = 0; i < BINS; i++) {
            for (int k = 0; k < LEVELS.length; k++) {
                double factor = random == null ? 1 : -Math.log(1 - random.nextDouble());
                obs.set(i, k, k, spectrum.applyAsDouble(i) * Math.exp(LEVELS[k]) * factor + noise, 0);
                obs.setNoise(i, k, noise);
            }
        }
        return obs;
    }
}
