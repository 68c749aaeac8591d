package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.io.IOException;
import ohmprint.dsp.PhaseTransform.LagSearch;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

@Tag("slow")
class LagSearchTest {
    private static final int EXCERPT = 1 << 15;
    private static final long SEED = 17;
    private static final int INCOHERENT_PAIRS = 400;

    @ParameterizedTest
    @ValueSource(longs = {0, 1, 777, 12_345, 100_000})
    void findsAnExcerptWithinAShortRecording(long position) throws IOException {
        LagSearch found =
                LagSearch.find(EndlessNoise.stretch(SEED, position, EXCERPT), new EndlessNoise(SEED, 150_000, 1), 0);
        assertThat(found.frames()).isEqualTo(position);
        assertThat(found.prominence()).isGreaterThan(LagSearch.SIGNIFICANT);
    }

    @ParameterizedTest
    @ValueSource(longs = {-1, -100, -5000, -16_000})
    void findsAnExcerptThatBeginsBeforeTheRecording(long position) throws IOException {
        LagSearch found =
                LagSearch.find(EndlessNoise.stretch(SEED, position, EXCERPT), new EndlessNoise(SEED, 150_000, 1), 0);
        assertThat(found.frames()).isEqualTo(position);
        assertThat(found.prominence()).isGreaterThan(LagSearch.SIGNIFICANT);
    }

    @Test
    void findsAnExcerptThatEndsAfterTheRecording() throws IOException {
        long position = 150_000 - EXCERPT / 2;
        LagSearch found =
                LagSearch.find(EndlessNoise.stretch(SEED, position, EXCERPT), new EndlessNoise(SEED, 150_000, 1), 0);
        assertThat(found.frames()).isEqualTo(position);
        assertThat(found.prominence()).isGreaterThan(LagSearch.SIGNIFICANT);
    }

    /** One transform holds positions up to MAX_TRANSFORM − 2·EXCERPT; around the seam, and beyond it, nothing is lost. */
    @ParameterizedTest
    @CsvSource({"-65537", "-65536", "-65535", "-50000", "-32768", "-1", "0", "1", "1500000"})
    void findsAnExcerptAcrossTheSeamsOfALongStream(long fromTransformEnd) throws IOException {
        long position = LagSearch.MAX_TRANSFORM + fromTransformEnd;
        LagSearch found =
                LagSearch.find(EndlessNoise.stretch(SEED, position, EXCERPT), new EndlessNoise(SEED, 6_000_000, 1), 0);
        assertThat(found.frames()).isEqualTo(position);
        assertThat(found.prominence()).isGreaterThan(LagSearch.SIGNIFICANT);
    }

    @Test
    void looksInTheChannelItIsTold() throws IOException {
        double[] excerpt = EndlessNoise.stretch(SEED + 2, 4321, EXCERPT);
        LagSearch right = LagSearch.find(excerpt, new EndlessNoise(SEED, 150_000, 3), 2);
        assertThat(right.frames()).isEqualTo(4321);
        assertThat(right.prominence()).isGreaterThan(LagSearch.SIGNIFICANT);
        LagSearch wrong = LagSearch.find(excerpt, new EndlessNoise(SEED, 150_000, 3), 0);
        assertThat(wrong.prominence()).isLessThan(LagSearch.SIGNIFICANT);
    }

    @Test
    void findsReversedPolarityUnderNoise() throws IOException {
        double[] other = EndlessNoise.stretch(SEED, 0, 150_000);
        double[] strange = EndlessNoise.stretch(SEED + 1, 0, 150_000);
        for (int i = 0; i < other.length; i++) {
            other[i] = -0.1 * other[i] + 0.1 * strange[i];
        }
        LagSearch found =
                LagSearch.find(EndlessNoise.stretch(SEED, 60_000, EXCERPT), new ArraySource(48_000, other), 0);
        assertThat(found.frames()).isEqualTo(60_000);
        assertThat(found.prominence()).isGreaterThan(LagSearch.SIGNIFICANT);
    }

    @Test
    void incoherentNoiseStaysInsignificant() throws IOException {
        for (long seed = 1000; seed < 1000 + 2L * INCOHERENT_PAIRS; seed += 2) {
            double prominence = LagSearch.find(
                            EndlessNoise.stretch(seed, 0, 1 << 13), new EndlessNoise(seed + 1, 50_000, 1), 0)
                    .prominence();
            assertThat(prominence).as("seed %d", seed).isBetween(3.0, LagSearch.SIGNIFICANT);
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {2001, 2002, 2003})
    void pinkNoiseOfAnotherSeedStaysInsignificantInLongTakes(long seed) throws IOException {
        double[] one = Noise.pink(1 << 19, 0.1, 48_000, seed);
        double[] other = Noise.pink(1 << 20, 0.1, 48_000, seed + 1000);
        assertThat(LagSearch.find(one, new ArraySource(48_000, other), 0).prominence())
                .as("seed %d", seed)
                .isLessThan(LagSearch.SIGNIFICANT);
    }

    @Test
    void silenceHasNoPeak() throws IOException {
        LagSearch found =
                LagSearch.find(EndlessNoise.stretch(SEED, 0, 4096), new ArraySource(48_000, new double[20_000]), 0);
        assertThat(found.prominence()).isZero();
    }

    @Test
    void refusesAnExcerptThatLeavesNoRoomInTheTransform() {
        double[] excerpt = new double[LagSearch.MAX_TRANSFORM / 2 + 1];
        assertThatIllegalArgumentException()
                .isThrownBy(() -> LagSearch.find(excerpt, new EndlessNoise(1, 5_000_000, 1), 0))
                .withMessageContaining("too long");
    }
}
