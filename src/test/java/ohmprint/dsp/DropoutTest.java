package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.function.LongFunction;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** How often standstills are missed, and how often seen where there are none, over seeded random takes. */
@Tag("statistics")
class DropoutTest {
    private static final int CASES = 80;
    private static final double[] RATES = {44100, 48000, 96000};

    static List<Arguments> sound() {
        return List.of(
                kind("16-bit sweep down to a few steps between digital silence", s -> {
                    Random r = new Random(s);
                    return sweep(s, r)
                            .times(0.9 * Math.pow(10, -4 * r.nextDouble()))
                            .withSilence(0.5, 0.5)
                            .quantised(16);
                }),
                kind(
                        "24-bit sweep without noise",
                        s -> sweep(s, new Random(s)).withSilence(0.5, 0.5).quantised(24)),
                kind("sweep without quantisation", s -> sweep(s, new Random(s)).withSilence(0.5, 0.5)),
                kind("16-bit sweep in a room", s -> {
                    Random r = new Random(s);
                    double peak = 0.7 * Math.pow(10, -4 * r.nextDouble());
                    return sweep(s, r)
                            .room(r)
                            .scaledToPeak(peak)
                            .withSilence(0.5, 0)
                            .quantised(16);
                }),
                kind("hum of a few 16-bit steps", s -> {
                    Random r = new Random(s);
                    double peak = 3e-5 * Math.pow(10, 2 * r.nextDouble());
                    return SyntheticTake.sine(
                                    RATES[(int) (s % 3)], 2, 20 + 100 * r.nextDouble(), peak, 6 * r.nextDouble())
                            .plusWhite(3e-5 * r.nextDouble(), s)
                            .quantised(16);
                }),
                kind("clipped sweep without noise", s -> {
                    Random r = new Random(s);
                    return sweep(s, r)
                            .room(r)
                            .scaledToPeak(2)
                            .clipped(-0.5, 0.5)
                            .quantised(24);
                }),
                kind("pink noise, 16 bit", s -> {
                    double rms = 0.1 * Math.pow(10, -4 * new Random(s).nextDouble());
                    return new SyntheticTake(Noise.pink(131072, rms, 48000, s), 48000).quantised(16);
                }),
                kind("bursts with digital silence of more than a second between them", s -> {
                    double[] x = Noise.pink(240_000, 0.1, 48000, s);
                    Arrays.fill(x, 96_000, 150_000, 0);
                    return new SyntheticTake(x, 48000).withSilence(0.3, 0.3).quantised(24);
                }));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource
    @DisplayName("no dropouts are seen where there are none")
    void sound(String name, LongFunction<SyntheticTake> maker) {
        List<String> alarms = new ArrayList<>();
        for (long seed = 0; seed < CASES; seed++) {
            List<Dropout> dropouts = maker.apply(seed).scan().dropouts();
            if (!dropouts.isEmpty()) {
                alarms.add("seed " + seed + " " + dropouts);
            }
        }
        assertThat(alarms).as(name).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void zerosAndHeldValuesInsideTheSoundAreFound(boolean held) {
        int found = 0;
        int total = 0;
        for (long seed = 0; seed < CASES; seed++) {
            Random r = new Random(seed);
            SyntheticTake t = seed % 2 == 0
                    ? sweep(seed, r).room(r).scaledToPeak(0.5)
                    : new SyntheticTake(Noise.pink(131072, 0.05, 48000, seed), 48000);
            double[] x = t.withSilence(0.3, 0.3).plusWhite(1e-5, seed).quantised(seed % 4 < 2 ? 24 : 16).x;
            int at = (int) ((0.5 + 0.2 * r.nextDouble()) * x.length);
            int length = 40 + r.nextInt(2000);
            Arrays.fill(x, at, at + length, held ? x[at] : 0);
            List<Dropout> dropouts = new SyntheticTake(x, t.fs).scan().dropouts();
            total++;
            // A neighbouring sample may happen to equal the held one.
            boolean right = dropouts.size() == 1
                    && Math.abs(dropouts.get(0).startFrame() - at) <= 2
                    && Math.abs(dropouts.get(0).frames() - length) <= 4;
            found += right ? 1 : 0;
        }
        assertThat(found).isGreaterThanOrEqualTo((int) (0.95 * total));
    }

    @Test
    void lengthsAddUp() {
        double[] x = Noise.pink(200_000, 0.1, 48000, 1);
        for (int at : new int[] {50_000, 80_000, 120_000}) {
            Arrays.fill(x, at, at + 480, 0);
        }
        TakeIndicators t = new SyntheticTake(x, 48000).scan();
        assertThat(t.dropouts()).extracting(Dropout::startFrame).containsExactly(50_000L, 80_000L, 120_000L);
        assertThat(t.dropoutMilliseconds()).isEqualTo(30);
    }

    private static Arguments kind(String name, LongFunction<SyntheticTake> maker) {
        return Arguments.of(name, maker);
    }

    private static SyntheticTake sweep(long seed, Random random) {
        return SyntheticTake.sweep(RATES[(int) (seed % 3)], 0.8 + random.nextDouble(), 0.9);
    }
}
