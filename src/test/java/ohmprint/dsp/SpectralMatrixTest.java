package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Averaged spectra against scipy's welch, csd and coherence on stored signals. */
class SpectralMatrixTest {
    private static final Path FIXTURES = Path.of("fixtures/signal");
    private static final double FS = 8000;
    private static final int BLOCK = 256;
    private static final int HOP = 64;
    private static final int[][] PAIRS = {{0, 1}, {0, 2}, {1, 2}};

    /** The stored spectra have 13 digits; the largest value of a column sets the scale of what rounding leaves. */
    private static final double ROUNDING = 1e-11;

    private static double[][] signals = new double[0][];

    @BeforeAll
    static void readSignals() throws IOException {
        double[][] rows = rows("three-signals-8k.csv");
        signals = new double[3][rows.length];
        for (int n = 0; n < rows.length; n++) {
            for (int k = 0; k < 3; k++) {
                signals[k][n] = rows[n][k] / 0x1p23;
            }
        }
    }

    // Source of the values: scipy 1.10.1 by fixtures/signal/make_spectra.py.
    @ParameterizedTest
    @CsvSource({"spectra-detrend-constant.csv, true", "spectra-detrend-off.csv, false"})
    void agreesWithScipy(String file, boolean removeMean) throws IOException {
        double[][] expected = rows(file);
        SpectralMatrix matrix = filled(0, FS / 2, removeMean);
        assertThat(matrix.blocks()).isEqualTo((signals[0].length - BLOCK) / HOP + 1);
        assertThat(matrix.firstBin()).isZero();
        assertThat(matrix.endBin()).isEqualTo(expected.length).isEqualTo(BLOCK / 2 + 1);
        for (int i = 0; i < expected.length; i++) {
            assertThat(matrix.frequency(i)).isEqualTo(expected[i][0]);
            for (int k = 0; k < 3; k++) {
                assertThat(matrix.auto(k, i))
                        .as("S%d%d of bin %d", k, k, i)
                        .isCloseTo(expected[i][1 + k], withinPercentage(100 * ROUNDING));
            }
            for (int p = 0; p < PAIRS.length; p++) {
                int k = PAIRS[p][0];
                int l = PAIRS[p][1];
                double size = Math.sqrt(expected[i][1 + k] * expected[i][1 + l]);
                String at = "pair " + k + l + " of bin " + i;
                assertThat(matrix.crossRe(k, l, i)).as(at).isCloseTo(expected[i][4 + 3 * p], within(ROUNDING * size));
                assertThat(matrix.crossIm(k, l, i)).as(at).isCloseTo(expected[i][5 + 3 * p], within(ROUNDING * size));
                assertThat(matrix.coherence(k, l, i)).as(at).isCloseTo(expected[i][6 + 3 * p], within(ROUNDING));
            }
        }
    }

    @Test
    void removingTheMeanMattersAtTheLowestBins() {
        assertThat(filled(0, FS / 2, true).auto(0, 0))
                .isLessThan(0.01 * filled(0, FS / 2, false).auto(0, 0));
    }

    @Test
    void isHermitian() {
        SpectralMatrix matrix = filled(0, FS / 2, false);
        for (int i = 0; i <= BLOCK / 2; i += 7) {
            for (int k = 0; k < 3; k++) {
                assertThat(matrix.crossIm(k, k, i)).isZero();
                assertThat(matrix.crossRe(k, k, i)).isEqualTo(matrix.auto(k, i));
                for (int l = 0; l < k; l++) {
                    assertThat(matrix.crossRe(k, l, i)).isEqualTo(matrix.crossRe(l, k, i));
                    assertThat(matrix.crossIm(k, l, i)).isEqualTo(-matrix.crossIm(l, k, i));
                    assertThat(matrix.coherence(k, l, i)).isEqualTo(matrix.coherence(l, k, i));
                }
            }
        }
    }

    @Test
    void aFrequencyRangeKeepsTheSameNumbersOfFewerBins() {
        SpectralMatrix all = filled(0, FS / 2, true);
        SpectralMatrix some = filled(1000, 2000, true);
        assertThat(some.firstBin()).isEqualTo(32);
        assertThat(some.endBin()).isEqualTo(65);
        for (int i = some.firstBin(); i < some.endBin(); i++) {
            assertThat(some.auto(2, i)).isEqualTo(all.auto(2, i));
            assertThat(some.crossIm(0, 2, i)).isEqualTo(all.crossIm(0, 2, i));
        }
    }

    /** A signal that comes later has a phase of −2πfτ against the earlier one: S_kl of k late is A·e^(−jωτ). */
    @Test
    void aLaterSignalHasANegativePhase() {
        double[] early = Noise.whiteGaussian(1 << 16, 0.1, 4);
        int delay = 2;
        double[] late = new double[early.length];
        System.arraycopy(early, 0, late, delay, early.length - delay);
        SpectralMatrix matrix = new SpectralMatrix(2, BLOCK, FS, 0, FS / 2, false);
        double[][] data = {late, early};
        for (int at = 0; at + BLOCK <= early.length; at += HOP) {
            matrix.add(data, at);
        }
        for (int i : new int[] {4, 16, 32}) {
            double phase = Math.atan2(matrix.crossIm(0, 1, i), matrix.crossRe(0, 1, i));
            double expected = -2 * Math.PI * matrix.frequency(i) * delay / FS;
            assertThat(phase).as("bin %d", i).isCloseTo(expected, within(0.01 * Math.abs(expected)));
        }
    }

    /** The density of white noise of variance v is 2v/f_s, one-sided (definition). */
    @Test
    void whiteNoiseHasTheDensityOfItsVariance() {
        double rms = 0.01;
        double[] x = Noise.whiteGaussian(1 << 18, rms, 9);
        SpectralMatrix matrix = new SpectralMatrix(1, BLOCK, FS, 0, FS / 2, false);
        for (int at = 0; at + BLOCK <= x.length; at += HOP) {
            matrix.add(new double[][] {x}, at);
        }
        double mean = 0;
        for (int i = 1; i < BLOCK / 2; i++) {
            mean += matrix.auto(0, i) / (BLOCK / 2 - 1);
        }
        assertThat(mean).isCloseTo(2 * rms * rms / FS, withinPercentage(1.5));
    }

    @Test
    void aSilentSignalHasNoCoherence() {
        SpectralMatrix matrix = new SpectralMatrix(2, BLOCK, FS, 0, FS / 2, false);
        matrix.add(new double[][] {signals[0], new double[BLOCK]}, 0);
        assertThat(matrix.coherence(0, 1, 10)).isZero();
    }

    private static SpectralMatrix filled(double fromHz, double toHz, boolean removeMean) {
        SpectralMatrix matrix = new SpectralMatrix(3, BLOCK, FS, fromHz, toHz, removeMean);
        for (int at = 0; at + BLOCK <= signals[0].length; at += HOP) {
            matrix.add(signals, at);
        }
        return matrix;
    }

    private static double[][] rows(String file) throws IOException {
        return Files.readAllLines(FIXTURES.resolve(file)).stream()
                .filter(line -> !line.startsWith("#"))
                .map(line -> Arrays.stream(line.split(","))
                        .mapToDouble(Double::parseDouble)
                        .toArray())
                .toArray(double[][]::new);
    }

    @Test
    void aFoldedMatrixHoldsEveryFourthBinExactly() {
        SpectralMatrix all = new SpectralMatrix(3, BLOCK, FS, 500, 3000, true);
        SpectralMatrix few = new SpectralMatrix(3, BLOCK, 4, FS, 500, 3000, true);
        for (int at = 0; at + BLOCK <= signals[0].length; at += HOP) {
            all.add(signals, at);
            few.add(signals, at);
        }
        assertThat(few.binSpacing()).isEqualTo(4 * all.binSpacing());
        assertThat(few.endBin() - few.firstBin()).isGreaterThan(15);
        for (int i = few.firstBin(); i < few.endBin(); i++) {
            assertThat(few.frequency(i)).isEqualTo(all.frequency(4 * i));
            assertThat(few.auto(1, i)).isCloseTo(all.auto(1, 4 * i), withinPercentage(100 * ROUNDING));
            double size = Math.sqrt(all.auto(0, 4 * i) * all.auto(2, 4 * i));
            assertThat(few.crossRe(0, 2, i)).isCloseTo(all.crossRe(0, 2, 4 * i), within(ROUNDING * size));
            assertThat(few.crossIm(0, 2, i)).isCloseTo(all.crossIm(0, 2, 4 * i), within(ROUNDING * size));
        }
    }
}
