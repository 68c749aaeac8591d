package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import ohmprint.dsp.ClockSkew.Piece;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The skew of takes made by {@link OtherClock}, through a room with reflections and with noise. */
@Tag("slow")
class ClockSkewTest {
    private static final double RATE = 48_000;
    private static final int LEAD = 40_000;
    private static final int TAIL = 12_000;
    private static final int PIECE = 1 << 15;
    private static final double[] NOISE = Noise.period(4 * 48_000, Noise.Colour.PINK, 20, 20_000, 0.5, RATE, 5);

    /** Within a piece the sound drifts too, which a second look after resampling takes out. */
    @ParameterizedTest
    @ValueSource(ints = {-50, 0, 1, 300})
    void aPassOfNoiseTellsTheSkew(int ppm) {
        double[] take = OtherClock.recorded(room(NOISE, 7), ppm, 0.37);
        ClockSkew first = ClockSkew.of(NOISE, take, pieces(), TAIL, RATE);
        assertThat(first.ppm()).isCloseTo(ppm, within(0.05 + 0.02 * Math.abs(ppm)));
        ClockSkew rest = ClockSkew.of(NOISE, Resampler.of(take, 1 + 1e-6 * first.ppm()), pieces(), TAIL, RATE);
        assertThat(first.ppm() + rest.ppm()).isCloseTo(ppm, within(0.05));
        assertThat(rest.standardUncertaintyPpm()).isLessThan(0.06);
    }

    @ParameterizedTest
    @ValueSource(ints = {-50, 0})
    void twoSweepsTellItFarBetter(int ppm) {
        double[] sweep = ExponentialSweep.ofBand(20, 20_000, 3, -6, RATE).samples();
        int period = sweep.length + 48_000;
        double[] played = java.util.Arrays.copyOf(sweep, period + sweep.length);
        System.arraycopy(sweep, 0, played, period, sweep.length);
        double[] take = OtherClock.recorded(room(played, 3), ppm, 0.8);
        ClockSkew found = ClockSkew.of(
                sweep,
                take,
                List.of(new Piece(0, LEAD, sweep.length), new Piece(0, LEAD + period, sweep.length)),
                TAIL,
                RATE);
        assertThat(found.ppm()).isCloseTo(ppm, within(Math.max(0.01, 5 * found.standardUncertaintyPpm())));
        assertThat(found.standardUncertaintyPpm()).isLessThan(0.02);
    }

    /** The estimate scatters no more than it says, and not far less: 8 noises, each judged by its own uncertainty. */
    @Test
    void theUncertaintyIsThatOfTheScatter() {
        double square = 0;
        for (int seed = 0; seed < 8; seed++) {
            ClockSkew found = ClockSkew.of(NOISE, room(NOISE, 100 + seed), pieces(), TAIL, RATE);
            square += Math.pow(found.ppm() / found.standardUncertaintyPpm(), 2) / 8;
        }
        assertThat(Math.sqrt(square)).isBetween(0.2, 1.4);
    }

    @Test
    void oneCopyTellsNothing() {
        assertThat(ClockSkew.of(NOISE, NOISE, List.of(new Piece(0, 0, PIECE)), TAIL, RATE)
                        .standardUncertaintyPpm())
                .isInfinite();
    }

    private static List<Piece> pieces() {
        List<Piece> pieces = new ArrayList<>();
        for (int at = 0; at + PIECE <= NOISE.length; at += PIECE) {
            pieces.add(new Piece(at, LEAD + at, PIECE));
        }
        return pieces;
    }

    /** Direct sound and twenty reflections, a second of silence around, white noise 50 dB below. */
    private static double[] room(double[] sound, long seed) {
        double[] y = Noise.whiteGaussian(sound.length + 2 * LEAD, 3e-4, seed);
        java.util.Random random = new java.util.Random(seed);
        for (int r = 0; r < 21; r++) {
            int late = r == 0 ? 0 : 60 + random.nextInt(2500);
            double gain = r == 0 ? 1 : 0.4 * random.nextGaussian() * Math.exp(-late / 700.0);
            for (int i = 0; i < sound.length; i++) {
                y[LEAD + late + i] += gain * sound[i];
            }
        }
        return y;
    }
}
