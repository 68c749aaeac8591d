package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;

class BinObservationsTest {
    private static final double ROUNDING = 1e-14;
    private static final double[] HZ = {100, 200, 400};
    private static final Complex[][] SNAPSHOTS = {
        {new Complex(1, 2), new Complex(-0.5, 0.25), new Complex(0, -3)},
        {new Complex(0.1, -0.2), new Complex(4, 1), new Complex(2, 2)},
        {new Complex(-1, -1), new Complex(0.3, 0), new Complex(1, -5)}
    };

    @Test
    void aSnapshotIsAnOuterProduct() {
        BinObservations obs = observed();
        for (int i = 0; i < HZ.length; i++) {
            for (int k = 0; k < 3; k++) {
                for (int l = 0; l < 3; l++) {
                    assertEntry(obs, i, k, l, SNAPSHOTS[i][k].multiply(SNAPSHOTS[i][l].conjugate()));
                }
            }
        }
    }

    @Test
    void advancingTakesOutADelay() {
        double[] seconds = {0, 1e-4, -3e-4};
        BinObservations advanced = observed().advanced(seconds);
        for (int i = 0; i < HZ.length; i++) {
            for (int k = 0; k < 3; k++) {
                assertThat(advanced.noise(i, k)).isEqualTo(observed().noise(i, k));
                for (int l = 0; l < 3; l++) {
                    Complex a = SNAPSHOTS[i][k].multiply(turn(HZ[i] * seconds[k]));
                    Complex b = SNAPSHOTS[i][l].multiply(turn(HZ[i] * seconds[l]));
                    assertEntry(advanced, i, k, l, a.multiply(b.conjugate()));
                }
            }
        }
    }

    @Test
    void noiseInTheOtherTakeDoesNotMoveTheLevelRatio() {
        double noise = 0.5;
        BinObservations obs = twice(1, noise);

        assertThat(obs.pair(0, HZ.length, 1, 0).logRatio()).isCloseTo(Math.log(2), within(ROUNDING));
        assertThat(obs.weightedPair(1, 0).logRatio()).isCloseTo(Math.log(2), within(ROUNDING));
    }

    @Test
    void aTakeThatIsNearlyAllNoiseIsComparedWithItsWholePower() {
        double signal = 0.01;
        BinObservations obs = twice(signal, 1);

        assertThat(obs.weightedPair(1, 0).logRatio()).isCloseTo(Math.log(2 * signal / (signal + 1)), within(ROUNDING));
    }

    @Test
    void theSameSoundIsCoherentAndUnrelatedOnesAreNot() {
        double[] hz = new double[4000];
        Arrays.setAll(hz, i -> 90 + 2.0 * i);
        BinObservations obs = new BinObservations(3, hz, 1);
        Random random = new Random(11);
        for (int i = 0; i < hz.length; i++) {
            double re = random.nextGaussian();
            double im = random.nextGaussian();
            obs.setSnapshot(i, new double[] {re, -3 * im, random.nextGaussian()}, new double[] {
                im, 3 * re, random.nextGaussian()
            });
        }

        assertThat(obs.coherence(1, 0)).isCloseTo(1, within(ROUNDING));
        assertThat(obs.coherence(2, 0)).isLessThan(BinObservations.COHERENT / 2);
    }

    /** Two takes of one sound, the second twice the first; the expectation of their products for this power and noise. */
    private static BinObservations twice(double signal, double noise) {
        BinObservations obs = new BinObservations(2, HZ, 1);
        for (int i = 0; i < HZ.length; i++) {
            for (int k = 0; k < 2; k++) {
                obs.setNoise(i, k, noise);
                for (int l = 0; l < 2; l++) {
                    obs.set(i, k, l, (k + 1) * (l + 1) * signal + (k == l ? noise : 0), 0);
                }
            }
        }
        return obs;
    }

    @Test
    void dividingTakesOutAGainFromSignalAndNoise() {
        Random random = new Random(5);
        double[][] re = new double[3][HZ.length];
        double[][] im = new double[3][HZ.length];
        for (int k = 0; k < 3; k++) {
            for (int i = 0; i < HZ.length; i++) {
                re[k][i] = random.nextGaussian();
                im[k][i] = random.nextGaussian();
            }
        }
        BinObservations divided = observed().dividedBy(re, im);
        for (int i = 0; i < HZ.length; i++) {
            for (int k = 0; k < 3; k++) {
                Complex g = new Complex(re[k][i], im[k][i]);
                assertThat(divided.noise(i, k) * g.abs() * g.abs())
                        .isCloseTo(observed().noise(i, k), within(ROUNDING));
                for (int l = 0; l < 3; l++) {
                    Complex a = SNAPSHOTS[i][k].divide(g);
                    Complex b = SNAPSHOTS[i][l].divide(new Complex(re[l][i], im[l][i]));
                    assertEntry(divided, i, k, l, a.multiply(b.conjugate()));
                }
            }
        }
    }

    @Test
    void someOfTheTakesInAnotherOrder() {
        BinObservations some = observed().only(new int[] {2, 0});
        assertThat(some.takes()).isEqualTo(2);
        assertThat(some.size()).isEqualTo(3);
        assertThat(some.averages()).isEqualTo(observed().averages());
        assertEntry(some, 1, 0, 1, SNAPSHOTS[1][2].multiply(SNAPSHOTS[1][0].conjugate()));
        assertThat(some.noise(2, 0)).isEqualTo(observed().noise(2, 2));
    }

    @Test
    void findsBinsByFrequency() {
        BinObservations obs = observed();
        assertThat(obs.firstAtOrAbove(50)).isZero();
        assertThat(obs.firstAtOrAbove(100)).isZero();
        assertThat(obs.firstAtOrAbove(100.01)).isEqualTo(1);
        assertThat(obs.firstAtOrAbove(400)).isEqualTo(2);
        assertThat(obs.firstAtOrAbove(400.01)).isEqualTo(3);
    }

    @Test
    void mergedCellsAddProductsAndAverageNoise() {
        BinObservations obs = new BinObservations(1, new double[] {130, 200, 300, 1000}, 1);
        for (int i = 0; i < 4; i++) {
            obs.setSnapshot(i, new double[] {i + 1}, new double[] {0});
            obs.setNoise(i, 0, 10 + i);
        }
        BinObservations cells = obs.merged(1);
        // Octaves from 128, 256 and 512 Hz.
        assertThat(cells.size()).isEqualTo(3);
        assertThat(cells.hz(0)).isEqualTo(165);
        assertThat(cells.re(0, 0, 0)).isEqualTo(1 + 4);
        assertThat(cells.noise(0, 0)).isEqualTo(10.5);
        assertThat(cells.count(0)).isEqualTo(2);
        assertThat(cells.advanced(new double[] {1e-3}).count(0)).isEqualTo(2);
        assertThat(cells.re(1, 0, 0)).isEqualTo(9);
        assertThat(cells.re(2, 0, 0)).isEqualTo(16);
        assertThat(cells.hz(2)).isEqualTo(1000);
    }

    @Test
    void mergingMayTakeOutDelaysOnTheWay() {
        double[] hz = {130, 200, 300, 1000};
        BinObservations obs = new BinObservations(2, hz, 1);
        for (int i = 0; i < hz.length; i++) {
            obs.setSnapshot(i, new double[] {1 + i, 2}, new double[] {0.5, i - 1});
            obs.setNoise(i, 0, 1 + i);
            obs.setNoise(i, 1, 2 + i);
        }
        double[] seconds = {0.1e-3, 0.4e-3, 0, -0.2e-3};
        BinObservations cells = obs.merged(1, (k, i) -> k * seconds[i]);
        Complex first = new Complex(obs.re(0, 1, 0), obs.im(0, 1, 0)).multiply(turn(130 * 0.1e-3));
        Complex second = new Complex(obs.re(1, 1, 0), obs.im(1, 1, 0)).multiply(turn(200 * 0.4e-3));
        assertEntry(cells, 0, 1, 0, first.add(second));
        assertEntry(cells, 0, 0, 1, first.add(second).conjugate());
        assertEntry(cells, 0, 1, 1, new Complex(obs.re(0, 1, 1) + obs.re(1, 1, 1), 0));
        assertEntry(cells, 1, 1, 0, new Complex(obs.re(2, 1, 0), obs.im(2, 1, 0)));
        assertThat(cells.noise(0, 1)).isEqualTo(2.5);
        assertThat(cells.count(0)).isEqualTo(2);
    }

    private static BinObservations observed() {
        BinObservations obs = new BinObservations(3, HZ, 0.7);
        for (int i = 0; i < HZ.length; i++) {
            double[] re = new double[3];
            double[] im = new double[3];
            for (int k = 0; k < 3; k++) {
                re[k] = SNAPSHOTS[i][k].getReal();
                im[k] = SNAPSHOTS[i][k].getImaginary();
                obs.setNoise(i, k, 0.1 + i + 10 * k);
            }
            obs.setSnapshot(i, re, im);
        }
        return obs;
    }

    private static Complex turn(double turns) {
        return new Complex(0, 2 * Math.PI * turns).exp();
    }

    private static void assertEntry(BinObservations obs, int i, int k, int l, Complex expected) {
        double size = ROUNDING * (1 + expected.abs());
        assertThat(obs.re(i, k, l)).as("Re S%d%d of bin %d", k, l, i).isCloseTo(expected.getReal(), within(size));
        assertThat(obs.im(i, k, l)).as("Im S%d%d of bin %d", k, l, i).isCloseTo(expected.getImaginary(), within(size));
    }
}
