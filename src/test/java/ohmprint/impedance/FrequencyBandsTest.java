package ohmprint.impedance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Grid against IEC 61260-1 base-ten midbands and edges, and ISO 266 nominal frequencies (both from memory). */
class FrequencyBandsTest {
    private static final double[] NOMINAL = {
        20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500,
        3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000
    };

    @ParameterizedTest
    @ValueSource(
            doubles = {
                19.953, 31.623, 63.096, 125.893, 316.228, 630.957, 794.328, 1258.925, 3162.278, 7943.282, 19952.623
            })
    void thirdOctaveMidbandsAreThoseOfTheStandard(double expected) {
        // IEC 61260-1:2014, exact third-octave midbands, from memory
        FrequencyBands bands = FrequencyBands.within(3, 19, 20000);

        assertThat(nearest(bands, expected)).isCloseTo(expected, within(0.0006));
    }

    @Test
    void thirdOctavesFromTwentyToTwentyThousandAreTheThirtyOneOfTheStandard() {
        // ISO 266 nominal values, from memory: each is the exact midband rounded for the label, at most 1 % off
        FrequencyBands bands = FrequencyBands.within(3, 19.9, 20000);

        assertThat(bands.size()).isEqualTo(NOMINAL.length);
        for (int i = 0; i < NOMINAL.length; i++) {
            assertThat(bands.midband(i) / NOMINAL[i]).isCloseTo(1, within(0.01));
        }
    }

    @Test
    void lowestThirdOctaveBandRunsFrom17783To22387MilliHertz() {
        // IEC 61260-1:2014, from memory: edge factor 10^0.05
        FrequencyBands bands = FrequencyBands.within(3, 19, 21);

        assertThat(bands.size()).isEqualTo(1);
        assertThat(bands.lowerEdge(0)).isCloseTo(17.783, within(0.0006));
        assertThat(bands.upperEdge(0)).isCloseTo(22.387, within(0.0006));
        assertThat(bands.upperEdge(0) / bands.midband(0)).isCloseTo(1.122018, within(6e-7));
    }

    @Test
    void sixthOctaveMidbandsLieAroundOneKilohertz() {
        // IEC 61260-1:2014, even denominators, from memory
        assertThat(FrequencyBands.within(6, 800, 1200).midbands())
                .usingComparatorWithPrecision(0.006)
                .containsExactly(841.40, 944.06, 1059.25, 1188.50);
    }

    @Test
    void twelfthOctaveMidbandsLieAroundOneKilohertz() {
        // IEC 61260-1:2014, even denominators, from memory
        assertThat(FrequencyBands.within(12, 950, 1050).midbands())
                .usingComparatorWithPrecision(0.006)
                .containsExactly(971.63, 1029.20);
    }

    @ParameterizedTest
    @ValueSource(ints = {6, 12, 24})
    void noBandOfAnEvenFractionIsCentredOnOneKilohertz(int fraction) {
        // IEC 61260-1:2014, from memory: with even b, 1 kHz is an edge
        FrequencyBands bands = FrequencyBands.within(fraction, 1000, 2000);

        assertThat(bands.midband(0)).isGreaterThan(1000);
        assertThat(bands.lowerEdge(0)).isCloseTo(1000, within(1e-9));
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 3, 6, 12, 24})
    void neighbouringBandsShareTheirEdge(int fraction) {
        FrequencyBands bands = FrequencyBands.within(fraction, 20, 20000);

        for (int i = 1; i < bands.size(); i++) {
            assertThat(bands.lowerEdge(i) / bands.upperEdge(i - 1)).isCloseTo(1, within(1e-12));
        }
    }

    @Test
    void aRangeThatEndsOnMidbandsHoldsThem() {
        assertThat(FrequencyBands.within(3, 1000, 10000).size()).isEqualTo(11);
    }

    @Test
    void whatIsNoGridIsRefusedWithTheNextStep() {
        assertThatThrownBy(() -> FrequencyBands.within(5, 20, 20000)).hasMessageContaining("1, 3, 6, 12 or 24, not 5");
        assertThatThrownBy(() -> FrequencyBands.within(3, 200, 100)).hasMessageContaining("lower frequency first");
        assertThatThrownBy(() -> FrequencyBands.within(3, 1050, 1100)).hasMessageContaining("widen the range");
    }

    private static double nearest(FrequencyBands bands, double hz) {
        return Arrays.stream(bands.midbands())
                .boxed()
                .min((a, b) -> Double.compare(Math.abs(a - hz), Math.abs(b - hz)))
                .orElseThrow();
    }

    /** Octave midbands 10^(3x/10) kHz: IEC 61260-1:2014, table of midbands (from memory). */
    @Test
    void octavesAreNumberedAboutOneKilohertz() {
        assertThat(FrequencyBands.octaveMidband(-2)).isCloseTo(251.19, within(0.01));
        assertThat(FrequencyBands.octaveMidband(4)).isCloseTo(15_848.9, within(0.1));
        assertThat(FrequencyBands.octave(1000)).isZero();
        assertThat(FrequencyBands.octave(707)).isEqualTo(-1);
        assertThat(FrequencyBands.octave(709)).isZero();
        assertThat(FrequencyBands.octave(15_000)).isEqualTo(4);
    }
}
