package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

@Tag("statistics")
class HumLinesTest {
    private static final int CASES = 80;

    @ParameterizedTest
    @CsvSource({"0.3, 1.5", "0.35, 1.2", "0.5, 0.5", "1, 0.2", "3, 0.05"})
    void mainsFrequencyLevelAndOrderAreFound(double seconds, double toleranceHz) {
        int found = 0;
        for (long seed = 0; seed < CASES; seed++) {
            Random r = new Random(seed);
            double mains = (r.nextBoolean() ? 49.6 : 59.6) + 0.8 * r.nextDouble();
            SyntheticTake t = SyntheticTake.sine(48000, seconds, mains, 1e-3, 6 * r.nextDouble());
            for (int h : new int[] {2, 3, 5, 7}) {
                t = t.plus(SyntheticTake.sine(48000, seconds, h * mains, 1e-3 / h, 6 * r.nextDouble()).x);
            }
            HumLines lines = HumLines.find(t.plusWhite(1e-4, seed).x, 48000);
            if (lines.mainsHz().isEmpty()) {
                continue;
            }
            assertThat(lines.mainsHz().getAsDouble()).as("seed %s", seed).isCloseTo(mains, within(toleranceHz));
            found++;
            HumLines.Line first = lines.lines().stream()
                    .filter(l -> l.harmonic() == 1)
                    .findFirst()
                    .orElseThrow(() -> new AssertionError("no fundamental"));
            // A sine of peak a has mean square a²/2: −63.01 dB.
            assertThat(first.levelDbfs()).as("seed %s", seed).isCloseTo(-63.01, within(0.5));
        }
        assertThat(found).isEqualTo(CASES);
    }

    @ParameterizedTest
    @CsvSource({
        "0.3, white",
        "0.35, white",
        "1, white",
        "3, white",
        "0.3, pink",
        "0.35, pink",
        "1, pink",
        "1.37, pink",
        "3, pink"
    })
    void noiseAloneHasHardlyAnyLines(double seconds, String colour) {
        int alarms = 0;
        int mains = 0;
        for (long seed = 0; seed < CASES; seed++) {
            int n = (int) (seconds * 48000);
            double[] x = colour.equals("white") ? Noise.whiteGaussian(n, 1e-4, seed) : Noise.pink(n, 1e-4, 48000, seed);
            HumLines lines = HumLines.find(x, 48000);
            alarms += lines.lines().isEmpty() ? 0 : 1;
            mains += lines.mainsHz().isPresent() ? 1 : 0;
        }
        assertThat(alarms).isLessThanOrEqualTo(CASES / 50);
        assertThat(mains).isLessThanOrEqualTo(CASES / 50);
    }

    @ParameterizedTest
    @ValueSource(doubles = {437.3, 1234.56, 15625})
    void aWhistleIsALineButNotMains(double hz) {
        HumLines lines = HumLines.find(SyntheticTake.sine(48000, 1, hz, 1e-3, 1).plusWhite(1e-5, 3).x, 48000);
        assertThat(lines.lines()).hasSize(1);
        HumLines.Line line = lines.lines().get(0);
        assertThat(line.hz()).isCloseTo(hz, within(0.05));
        assertThat(line.levelDbfs()).isCloseTo(-63.01, within(0.02));
        // Density at the peak: mean square over the window's noise bandwidth, 2.0 bins of 1 Hz (Harris 1978, from
        // memory),
        // at most 0.83 dB less between bins; floor: median of a white periodogram, ln 2 of 2σ²/fs.
        double expected = -63.01 - 3.01 - 10 * Math.log10(Math.log(2) * 2e-10 / 48000);
        assertThat(line.prominenceDb()).isBetween(expected - 2.5, expected + 1.5);
        assertThat(line.harmonic()).isZero();
        assertThat(lines.mainsHz()).isEmpty();
        assertThat(lines.covers(hz + 1, 2)).isTrue();
        assertThat(lines.covers(hz + 10, 2)).isFalse();
    }

    @Test
    void averagedDensitiesWorkToo() {
        double[] density = new double[2001];
        Arrays.fill(density, 1e-12);

        density[20] = 1e-6;
        density[19] = 0.25e-6;
        density[21] = 0.25e-6;
        HumLines lines = HumLines.inSpectrum(density, 5, 5);
        assertThat(lines.lines()).hasSize(1);
        assertThat(lines.lines().get(0).hz()).isCloseTo(100, within(1e-9));
        // Hann power pattern 1/4, 1, 1/4 on a bin centre: total 1.5 bins.
        assertThat(lines.lines().get(0).levelDbfs()).isCloseTo(10 * Math.log10(1.5e-6 * 5), within(0.001));
    }

    @Test
    void tooShortALeadInIsRefused() {
        assertThatThrownBy(() -> HumLines.find(new double[4800], 48000))
                .hasMessageContaining("0.1 s")
                .hasMessageContaining("leave at least 0.2 s");
    }

    @Test
    void digitalSilenceHasNoLines() {
        assertThat(HumLines.find(new double[48000], 48000).lines()).isEmpty();
    }
}
