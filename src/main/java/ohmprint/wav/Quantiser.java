package ohmprint.wav;

import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;

/**
 * Rounds samples to integers of n bits.
 *
 * <p>{@code v = round(x·2^(n−1) + d)}, halves to even, limited to {@code −2^(n−1) … 2^(n−1)−1}: full scale itself is one
 * step above the largest integer and is stored as that. {@code d} is 0, or triangular dither: the sum of two numbers
 * uniform within ±½ step, which makes the error's mean and variance independent of the sample.
 */
final class Quantiser {
    private final double steps;
    private final @Nullable SplittableRandom random;

    /**
     * A quantiser without dither.
     *
     * @param bits bits per sample n
     */
    Quantiser(int bits) {
        this(bits, null);
    }

    private Quantiser(int bits, @Nullable SplittableRandom random) {
        this.steps = Math.scalb(1.0, bits - 1);
        this.random = random;
    }

    /**
     * A quantiser with triangular dither.
     *
     * @param bits bits per sample n
     * @param seed the same seed gives the same dither
     */
    static Quantiser dithered(int bits, long seed) {
        return new Quantiser(bits, new SplittableRandom(seed));
    }

    /** The integer for a sample within ±1. */
    int quantise(double sample) {
        double dither = random == null ? 0 : random.nextDouble() + random.nextDouble() - 1;
        return (int) Math.max(-steps, Math.min(steps - 1, Math.rint(sample * steps + dither)));
    }
}
