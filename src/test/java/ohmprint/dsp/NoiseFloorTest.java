package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import ohmprint.impedance.FrequencyBands;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@Tag("slow")
class NoiseFloorTest {
    @ParameterizedTest
    @CsvSource({"0.25, 120", "0.34, 90", "0.5, 60", "0.69, 45", "1, 30", "4, 30"})
    void whiteNoiseHasTheDensityOfItsVariance(double seconds, double fromHz) {
        double worst = 0;
        double sum = 0;
        int count = 0;
        // σ² spread evenly from 0 to fs/2: 2σ²/fs.
        double expected = 10 * Math.log10(2 * 1e-8 / 48000);
        for (long seed = 0; seed < 50; seed++) {
            double[] x = Noise.whiteGaussian((int) (seconds * 48000), 1e-4, seed);
            NoiseFloor floor = NoiseFloor.of(x, 48000);
            for (double hz = fromHz; hz < 23000; hz *= 1.3) {
                double error = psdDb(floor, hz) - expected;
                worst = Math.max(worst, Math.abs(error));
                sum += error;
                count++;
            }
        }
        // Five tapers, or two and more of two parts, leave at least eight degrees of freedom: sd 2.2 dB at the lowest
        // band.
        assertThat(worst).isLessThan(8);
        assertThat(sum / count).isCloseTo(0, within(0.15));
    }

    @Test
    void bandLevelsOfWhiteNoiseFollowTheirWidth() {
        FrequencyBands bands = FrequencyBands.within(3, 100, 20000);
        double[] levels =
                NoiseFloor.of(Noise.whiteGaussian(480_000, 0.01, 2), 48000).levelsDbfs(bands);
        for (int i = 0; i < bands.size(); i++) {
            double width = bands.upperEdge(i) - bands.lowerEdge(i);
            double expected = 10 * Math.log10(1e-4 * width / 24000);
            // Degrees of freedom about 2·width·10 s.
            double sd = 4.34 * Math.sqrt(2 / (2 * width * 10));
            assertThat(levels[i]).as("%s Hz", bands.midband(i)).isCloseTo(expected, within(4 * sd + 0.02));
        }
    }

    @Test
    void pinkNoiseHasEqualBandLevels() {
        FrequencyBands bands = FrequencyBands.within(3, 100, 10000);
        double[] levels =
                NoiseFloor.of(Noise.pink(480_000, 0.01, 48000, 2), 48000).levelsDbfs(bands);
        double[] psd = new double[levels.length];
        for (int i = 0; i < levels.length; i++) {
            psd[i] = levels[i] - levels[levels.length - 1];
        }
        for (double p : psd) {
            assertThat(p).isCloseTo(0, within(1.0));
        }
    }

    @Test
    void agreesWithWelchOfScipyOnStoredNoise() throws IOException {
        // fixtures/signal/make_welch.py: scipy 1.10.1, Hann 256, 50 % overlap, third-octave means.
        double[] x = lines("noise-8k.csv").stream()
                .mapToDouble(l -> Integer.parseInt(l) * 0x1p-23)
                .toArray();
        NoiseFloor floor = NoiseFloor.of(x, 8000);
        assertThat(x).hasSize(8000);
        for (String line : lines("welch-8k.csv")) {
            String[] v = line.split(",");
            double hz = Double.parseDouble(v[0]);
            double ratioDb = psdDb(floor, hz) - 10 * Math.log10(Double.parseDouble(v[1]));
            // Two estimates of the same second of noise; the bandwidths differ.
            assertThat(ratioDb).as("%s Hz", hz).isCloseTo(0, within(1.0));
        }
    }

    @Test
    void linesAreLeftOutWhenTold() {
        double[] x = SyntheticTake.sine(48000, 1, 50, 1e-3, 1)
                .plus(SyntheticTake.sine(48000, 1, 150, 1e-3, 2).x)
                .plusWhite(1e-4, 3)
                .x;
        double expected = 10 * Math.log10(2 * 1e-8 / 48000);
        HumLines lines = HumLines.find(x, 48000);
        assertThat(psdDb(NoiseFloor.of(x, 48000), 150)).isGreaterThan(expected + 10);
        assertThat(psdDb(NoiseFloor.without(lines, x, 48000), 150)).isCloseTo(expected, within(3.0));
        assertThat(psdDb(NoiseFloor.without(lines, x, 48000), 50)).isCloseTo(expected, within(4.0));
    }

    @Test
    void shortLeadInFullOfLinesStillGivesAFloor() {
        double[] x = Noise.whiteGaussian(12_000, 1e-4, 5);
        for (int h = 1; h <= 40; h++) {
            double[] line = SyntheticTake.sine(48000, 0.25, 50.0 * h, 1e-3, h).x;
            for (int n = 0; n < x.length; n++) {
                x[n] += line[n];
            }
        }
        NoiseFloor floor = NoiseFloor.without(HumLines.find(x, 48000), x, 48000);
        for (double hz : new double[] {0, 10, 50, 500, 5000, 24000, 90000}) {
            assertThat(floor.psd(hz)).as("%s Hz", hz).isPositive().isFinite();
        }
    }

    @Test
    void tooShortALeadInIsRefused() {
        assertThatThrownBy(() -> NoiseFloor.of(new double[4800], 48000))
                .hasMessageContaining("0.1 s")
                .hasMessageContaining("0.25 s of silence");
    }

    private static List<String> lines(String name) throws IOException {
        return Files.readAllLines(Path.of("fixtures", "signal", name)).stream()
                .filter(l -> !l.startsWith("#"))
                .toList();
    }

    /** Level in decibels relative to full-scale² per hertz. */
    private static double psdDb(NoiseFloor floor, double hz) {
        return 10 * Math.log10(floor.psd(hz));
    }
}
