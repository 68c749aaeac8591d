package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** Spectra of one sound through three dividers, written out with complex Gaussian noise of chosen variance. */
class NoiseByScatterTest {
    private static final int BINS = 20_000;
    /** 20 000 bins in ranges of ten or more with two terms each know a variance to about 2 %. */
    private static final double CHANCE = 0.06;

    private static final double[] GAIN = {1, 0.6, 0.25};

    @Test
    void theNoiseOfOneTakeIsFoundBesideKnownOnes() {
        double[] sd = {0.01, 0.03, 0.02};
        BinObservations bins = draw(sd, 3);
        for (int i = 0; i < BINS; i++) {
            bins.setNoise(i, 1, 1e-14);
        }
        NoiseByScatter.into(bins, new boolean[] {false, true, false}, 0);
        assertThat(mean(bins, 1)).isCloseTo(sd[1] * sd[1], within(CHANCE * sd[1] * sd[1]));
        assertThat(bins.noise(BINS / 2, 0)).isEqualTo(sd[0] * sd[0]);
    }

    @Test
    void equalNoiseOfAllTakesIsFound() {
        double[] sd = {0.02, 0.02, 0.02};
        BinObservations bins = draw(sd, 4);
        for (int i = 0; i < BINS; i++) {
            for (int k = 0; k < sd.length; k++) {
                bins.setNoise(i, k, 1e-14);
            }
        }
        NoiseByScatter.into(bins, new boolean[] {true, true, true}, 0);
        for (int k = 0; k < sd.length; k++) {
            assertThat(mean(bins, k)).isCloseTo(sd[k] * sd[k], within(CHANCE * sd[k] * sd[k]));
        }
    }

    private static double mean(BinObservations bins, int k) {
        double sum = 0;
        for (int i = 0; i < bins.size(); i++) {
            sum += bins.noise(i, k) / bins.size();
        }
        return sum;
    }

    /** A room that changes from bin to bin, and dividers that turn slowly. */
    private static BinObservations draw(double[] sd, long seed) {
        Random random = CircuitBins.seeded(seed);
        double[] hz = new double[BINS];
        for (int i = 0; i < BINS; i++) {
            hz[i] = 20 + i;
        }
        BinObservations bins = new BinObservations(sd.length, hz, 1);
        double[] re = new double[sd.length];
        double[] im = new double[sd.length];
        for (int i = 0; i < BINS; i++) {
            double roomRe = random.nextGaussian();
            double roomIm = random.nextGaussian();
            for (int k = 0; k < sd.length; k++) {
                double turn = 1e-5 * k * hz[i];
                double gRe = GAIN[k] * Math.cos(turn);
                double gIm = GAIN[k] * Math.sin(turn);
                re[k] = gRe * roomRe - gIm * roomIm + sd[k] * random.nextGaussian() / Math.sqrt(2);
                im[k] = gRe * roomIm + gIm * roomRe + sd[k] * random.nextGaussian() / Math.sqrt(2);
                bins.setNoise(i, k, sd[k] * sd[k]);
            }
            bins.setSnapshot(i, re, im);
        }
        return bins;
    }
}
