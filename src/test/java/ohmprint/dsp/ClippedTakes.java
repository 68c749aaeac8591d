package ohmprint.dsp;

import java.util.Arrays;
import java.util.Random;
import java.util.function.LongFunction;
import org.junit.jupiter.params.provider.Arguments;

/** Random takes that are clipped, or only look like it: each seed always the same one. */
final class ClippedTakes {
    static final int CASES = 80;
    static final double[] RATES = {44100, 48000, 96000};

    private ClippedTakes() {}

    static Arguments kind(String name, LongFunction<SyntheticTake> maker) {
        return Arguments.of(name, maker);
    }

    static Arguments kind(String name, double leastShare, LongFunction<SyntheticTake> maker) {
        return Arguments.of(name, leastShare, maker);
    }

    static SyntheticTake sweep(long seed, Random random) {
        return SyntheticTake.sweep(RATES[(int) (seed % 3)], 0.8 + random.nextDouble(), 1);
    }

    static SyntheticTake cut(SyntheticTake t, double at, double level, double noise, long seed) {
        return t.clipped(-at, at)
                .times(level / at)
                .plusWhite(noise * level, seed + 1000)
                .quantised(24);
    }

    /** Ten to a power drawn evenly between 0 and {@code exponent}. */
    static double decades(Random random, double exponent) {
        return Math.pow(10, exponent * random.nextDouble());
    }

    /** The level above which the take stands for so many milliseconds in all. */
    static double levelOfFlat(SyntheticTake t, double ms) {
        double[] sorted = Arrays.stream(t.x).map(Math::abs).sorted().toArray();
        return sorted[sorted.length - (int) Math.ceil(ms * t.fs / 1000)];
    }
}
