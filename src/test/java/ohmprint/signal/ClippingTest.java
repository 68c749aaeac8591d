package ohmprint.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.function.LongFunction;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** How often flat tops are missed, and how often seen where there are none, over seeded random takes. */
class ClippingTest {
    private static final int CASES = 80;
    private static final double[] RATES = {44100, 48000, 96000};

    static List<Arguments> clean() {
        return List.of(
                kind("sweep of constant amplitude, 24 bit", s -> {
                    Random r = new Random(s);
                    return sweep(s, r).times(0.9 * decades(r, -2)).quantised(24);
                }),
                kind("sweep of constant amplitude, 16 bit, down to a few steps", s -> {
                    Random r = new Random(s);
                    return sweep(s, r).times(0.9 * decades(r, -4)).quantised(16);
                }),
                kind("sweep of constant amplitude with noise", s -> {
                    Random r = new Random(s);
                    return sweep(s, r).times(0.9).plusWhite(0.01 * decades(r, -3), s);
                }),
                kind("sweep in a room, 24 bit", s -> {
                    Random r = new Random(s);
                    double peak = 0.7 * decades(r, -2);
                    return sweep(s, r)
                            .room(r)
                            .scaledToPeak(peak)
                            .plusWhite(1e-5, s)
                            .quantised(24);
                }),
                kind("sweep in a room, 16 bit, down to a few steps", s -> {
                    Random r = new Random(s);
                    double peak = 0.7 * decades(r, -4);
                    return sweep(s, r)
                            .room(r)
                            .scaledToPeak(peak)
                            .plusWhite(3e-5 * r.nextDouble(), s)
                            .quantised(16);
                }),
                kind("sweep with a resonance at a quarter of the sample rate", s -> {
                    Random r = new Random(s);
                    SyntheticTake t = sweep(s, r);
                    return t.resonance(t.fs / 4, 5 + 50 * r.nextDouble(), 10)
                            .scaledToPeak(0.7)
                            .quantised(24);
                }),
                kind("sweep with a resonance of few samples per cycle", s -> {
                    Random r = new Random(s);
                    SyntheticTake t = sweep(s, r);
                    double hz = Math.min(19000, t.fs / (2.3 + 4 * r.nextDouble()));
                    return t.resonance(hz, 5 + 50 * r.nextDouble(), 10)
                            .scaledToPeak(0.7)
                            .quantised(24);
                }),
                kind("gaussian noise", s -> new SyntheticTake(Noise.whiteGaussian(96000, 0.1, s), 48000).quantised(24)),
                kind("uniform noise", s -> new SyntheticTake(Noise.whiteUniform(96000, 0.5, s), 48000).quantised(24)),
                kind("pink noise, 16 bit, down to a few steps", s -> {
                    double rms = 0.1 * decades(new Random(s), -4);
                    return new SyntheticTake(Noise.pink(131072, rms, 48000, s), 48000).quantised(16);
                }),
                kind("hum with harmonics and noise", s -> {
                    Random r = new Random(s);
                    double hz = (r.nextBoolean() ? 49.5 : 59.5) + r.nextDouble();
                    SyntheticTake third =
                            SyntheticTake.sine(48000, 3, 3 * hz, 0.003 * r.nextDouble(), 6 * r.nextDouble());
                    return SyntheticTake.sine(48000, 3, hz, 0.01, 6 * r.nextDouble())
                            .plus(third.x)
                            .plusWhite(1e-3 * decades(r, -3), s)
                            .quantised(24);
                }),
                kind("hum of a few 16-bit steps", s -> {
                    Random r = new Random(s);
                    double peak = 3e-5 * decades(r, 2);
                    return SyntheticTake.sine(
                                    RATES[(int) (s % 3)], 2, 20 + 100 * r.nextDouble(), peak, 6 * r.nextDouble())
                            .plusWhite(6e-5 * r.nextDouble(), s)
                            .quantised(16);
                }),
                kind("tone with few repeating phases", s -> {
                    Random r = new Random(s);
                    double hz = 48000.0 / (3 + r.nextInt(80)) * (1 + r.nextInt(2));
                    double noise = 0.01 * decades(r, -5);
                    return SyntheticTake.sine(48000, 2, hz, 0.5, 6 * r.nextDouble())
                            .plusWhite(noise, s)
                            .quantised(24);
                }),
                kind("1 kHz at 48 kHz", s -> {
                    double peak = 0.5 * new Random(s).nextDouble();
                    return SyntheticTake.sine(48000, 2, 1000, peak, s * Math.PI / 4)
                            .quantised(s % 2 == 0 ? 16 : 24);
                }),
                kind("saturation by up to half a decibel", s -> {
                    Random r = new Random(s);
                    SyntheticTake t = s % 2 == 0 ? sweep(s, r).room(r) : sweep(s, r);
                    // tanh(0.42)/0.42 is −0.49 dB.
                    double[] bent = Arrays.stream(t.scaledToPeak(0.05 + 0.37 * r.nextDouble()).x)
                            .map(Math::tanh)
                            .toArray();
                    return new SyntheticTake(bent, t.fs).quantised(24);
                }));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource
    @DisplayName("no flat tops are seen where there are none")
    void clean(String name, LongFunction<SyntheticTake> maker) {
        List<String> alarms = new ArrayList<>();
        for (long seed = 0; seed < CASES; seed++) {
            String which = "seed " + seed + " ";
            maker.apply(seed).scan().clipping().ifPresent(c -> alarms.add(which + c.inWords()));
        }
        assertThat(alarms).as(name).isEmpty();
    }

    static List<Arguments> clipped() {
        List<Arguments> kinds = new ArrayList<>();
        for (double noise : new double[] {0, 1e-4}) {
            for (double ms : new double[] {1, 3, 30}) {
                double least = ms == 1 ? 0.9 : 1;
                kinds.add(kind("room sweep flat for " + ms + " ms, noise " + noise, least, s -> {
                    Random r = new Random(s);
                    SyntheticTake t = sweep(s, r).room(r);
                    double c = levelOfFlat(t, ms);
                    double level = new double[] {0.999, 0.5, 0.25, 0.1}[(int) (s % 4)];
                    return cut(t, c, level, noise, s);
                }));
            }
        }
        for (double db : new double[] {0.1, 0.5, 2}) {
            kinds.add(kind("sweep of constant amplitude cut by " + db + " dB", 1, s -> {
                SyntheticTake t = sweep(s, new Random(s));
                return cut(t, t.peak() * Math.pow(10, -db / 20), 0.5, 1e-4, s);
            }));
        }
        for (double db : new double[] {0.5, 2}) {
            kinds.add(kind("one resonance cut by " + db + " dB", 0.98, s -> {
                Random r = new Random(s);
                double hz = 60 * Math.pow(250, r.nextDouble());
                SyntheticTake t = sweep(s, r).resonance(hz, 2 + 4 * r.nextDouble(), 12);
                return cut(t, t.peak() * Math.pow(10, -db / 20), 0.5, 1e-4, s);
            }));
        }
        for (double sigmas : new double[] {2, 2.5, 3}) {
            kinds.add(kind("white noise cut at " + sigmas + " sigma", 1, s -> {
                double[] x = Noise.whiteGaussian(144000, 1, s);
                return cut(new SyntheticTake(x, 48000), sigmas, 0.5, 3e-4, s);
            }));
            kinds.add(kind("pink noise cut at " + sigmas + " sigma", sigmas > 2.7 ? 0.95 : 1, s -> {
                double[] x = Noise.pink(144000, 1, 48000, s);
                return cut(new SyntheticTake(x, 48000), sigmas, 0.25, 1e-4, s);
            }));
        }
        return kinds;
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource
    @DisplayName("flat tops are found at any level")
    void clipped(String name, double leastShare, LongFunction<SyntheticTake> maker) {
        List<Long> missed = new ArrayList<>();
        for (long seed = 0; seed < CASES; seed++) {
            if (maker.apply(seed).scan().clipping().isEmpty()) {
                missed.add(seed);
            }
        }
        assertThat(missed).as("%s, seeds missed", name).hasSizeLessThanOrEqualTo((int)
                ((1 - leastShare) * CASES + 0.5));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.999, 0.5, 0.25})
    void durationLevelAndPlaceAreThoseOfTheCut(double level) {
        for (long seed = 0; seed < 20; seed++) {
            Random r = new Random(seed);
            SyntheticTake t = sweep(seed, r).room(r);
            double c = levelOfFlat(t, 20);
            double[] x = t.x;
            int first = 0;
            while (Math.abs(x[first]) < c) {
                first++;
            }
            Clipping clipping = cut(t, c, level, 1e-4, seed)
                    .withSilence(1, 0)
                    .scan()
                    .clipping()
                    .orElseThrow();
            assertThat(clipping.levelDbfs()).as("seed %s", seed).isCloseTo(20 * Math.log10(level), within(0.05));
            assertThat(clipping.milliseconds()).as("seed %s", seed).isBetween(12.0, 24.0);
            assertThat(clipping.firstSeconds()).as("seed %s", seed).isCloseTo(1 + first / t.fs, within(0.1));
            assertThat(clipping.polarity()).as("seed %s", seed).isEqualTo(Clipping.Polarity.BOTH);
        }
    }

    @ParameterizedTest
    @CsvSource({"-10, 1, POSITIVE", "-1, 10, NEGATIVE", "-1, 0.8, BOTH"})
    void polarityIsTold(double low, double high, Clipping.Polarity expected) {
        for (long seed = 0; seed < 50; seed++) {
            Random r = new Random(seed);
            SyntheticTake t = sweep(seed, r).room(r);
            double c = levelOfFlat(t, 30);
            Clipping clipping = t.clipped(low * c, high * c)
                    .times(0.1 / c)
                    .plusWhite(1e-5, seed)
                    .quantised(24)
                    .scan()
                    .clipping()
                    .orElseThrow();
            assertThat(clipping.polarity()).as("seed %s", seed).isEqualTo(expected);
        }
    }

    @Test
    void aSweepClippedBeforeTheConvertersFilterIsFoundDespiteItsOvershoot() {
        for (double db : new double[] {0.5, 1, 3, 6}) {
            SyntheticTake analog = SyntheticTake.sweep(8 * 48000, 1.5, 1);
            double c = Math.pow(10, -db / 20);
            SyntheticTake take = analog.clipped(-c, c)
                    .times(0.5 / c)
                    .decimated(8)
                    .plusWhite(5e-5, 1)
                    .quantised(24);
            assertThat(take.peak()).isGreaterThan(0.505);
            Clipping clipping = take.scan().clipping().orElseThrow();
            assertThat(clipping.levelDbfs()).as("cut by %s dB", db).isCloseTo(-6.02, within(0.1));
        }
    }

    @Test
    void converterOverloadAtSixteenBitsIsFound() {
        for (long seed = 0; seed < 50; seed++) {
            Random r = new Random(seed);
            SyntheticTake t = sweep(seed, r).room(r);
            Clipping c = t.times(1 / levelOfFlat(t, 5))
                    .quantised(16)
                    .scan()
                    .clipping()
                    .orElseThrow();
            assertThat(c.levelDbfs()).isCloseTo(0, within(0.01));
        }
    }

    @Test
    void digitalSilenceIsNotClipped() {
        assertThat(new SyntheticTake(new double[100_000], 48000).scan().clipping())
                .isEmpty();
    }

    @Test
    void messageSaysHowLongHowHighAndWhere() {
        assertThat(new Clipping(41.2, -6.02, Clipping.Polarity.BOTH, 1.2341).inWords())
                .isEqualTo("clips for 41 ms at −6.0 dBFS from 1.234 s");
        assertThat(new Clipping(1.26, -0.001, Clipping.Polarity.NEGATIVE, 0).inWords())
                .isEqualTo("clips for 1.3 ms at 0.0 dBFS (negative half-waves) from 0.000 s");
    }

    private static Arguments kind(String name, LongFunction<SyntheticTake> maker) {
        return Arguments.of(name, maker);
    }

    private static Arguments kind(String name, double leastShare, LongFunction<SyntheticTake> maker) {
        return Arguments.of(name, leastShare, maker);
    }

    private static SyntheticTake sweep(long seed, Random random) {
        return SyntheticTake.sweep(RATES[(int) (seed % 3)], 0.8 + random.nextDouble(), 1);
    }

    private static SyntheticTake cut(SyntheticTake t, double at, double level, double noise, long seed) {
        return t.clipped(-at, at)
                .times(level / at)
                .plusWhite(noise * level, seed + 1000)
                .quantised(24);
    }

    /** Ten to a power drawn evenly between 0 and {@code exponent}. */
    private static double decades(Random random, double exponent) {
        return Math.pow(10, exponent * random.nextDouble());
    }

    /** The level above which the take stands for so many milliseconds in all. */
    private static double levelOfFlat(SyntheticTake t, double ms) {
        double[] sorted = Arrays.stream(t.x).map(Math::abs).sorted().toArray();
        return sorted[sorted.length - (int) Math.ceil(ms * t.fs / 1000)];
    }
}
