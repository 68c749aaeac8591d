package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.LongFunction;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** How often flat tops are missed, over seeded random takes. */
@Tag("statistics")
class ClippingFoundTest {
    static List<Arguments> clipped() {
        List<Arguments> kinds = new ArrayList<>();
        for (double noise : new double[] {0, 1e-4}) {
            for (double ms : new double[] {1, 3, 30}) {
                double least = ms == 1 ? 0.9 : 1;
                kinds.add(ClippedTakes.kind("room sweep flat for " + ms + " ms, noise " + noise, least, s -> {
                    Random r = new Random(s);
                    SyntheticTake t = ClippedTakes.sweep(s, r).room(r);
                    double c = ClippedTakes.levelOfFlat(t, ms);
                    double level = new double[] {0.999, 0.5, 0.25, 0.1}[(int) (s % 4)];
                    return ClippedTakes.cut(t, c, level, noise, s);
                }));
            }
        }
        for (double db : new double[] {0.1, 0.5, 2}) {
            kinds.add(ClippedTakes.kind("sweep of constant amplitude cut by " + db + " dB", 1, s -> {
                SyntheticTake t = ClippedTakes.sweep(s, new Random(s));
                return ClippedTakes.cut(t, t.peak() * Math.pow(10, -db / 20), 0.5, 1e-4, s);
            }));
        }
        for (double db : new double[] {0.5, 2}) {
            kinds.add(ClippedTakes.kind("one resonance cut by " + db + " dB", 0.98, s -> {
                Random r = new Random(s);
                double hz = 60 * Math.pow(250, r.nextDouble());
                SyntheticTake t = ClippedTakes.sweep(s, r).resonance(hz, 2 + 4 * r.nextDouble(), 12);
                return ClippedTakes.cut(t, t.peak() * Math.pow(10, -db / 20), 0.5, 1e-4, s);
            }));
        }
        for (double sigmas : new double[] {2, 2.5, 3}) {
            kinds.add(ClippedTakes.kind("white noise cut at " + sigmas + " sigma", 1, s -> {
                double[] x = Noise.whiteGaussian(144000, 1, s);
                return ClippedTakes.cut(new SyntheticTake(x, 48000), sigmas, 0.5, 3e-4, s);
            }));
            kinds.add(ClippedTakes.kind("pink noise cut at " + sigmas + " sigma", sigmas > 2.7 ? 0.95 : 1, s -> {
                double[] x = Noise.pink(144000, 1, 48000, s);
                return ClippedTakes.cut(new SyntheticTake(x, 48000), sigmas, 0.25, 1e-4, s);
            }));
        }
        return kinds;
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource
    @DisplayName("flat tops are found at any level")
    void clipped(String name, double leastShare, LongFunction<SyntheticTake> maker) {
        List<Long> missed = new ArrayList<>();
        for (long seed = 0; seed < ClippedTakes.CASES; seed++) {
            if (maker.apply(seed).scan().clipping().isEmpty()) {
                missed.add(seed);
            }
        }
        assertThat(missed).as("%s, seeds missed", name).hasSizeLessThanOrEqualTo((int)
                ((1 - leastShare) * ClippedTakes.CASES + 0.5));
    }
}
