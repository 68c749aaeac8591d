package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.function.LongFunction;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** How often flat tops are seen where there are none, over seeded random takes. */
@Tag("statistics")
class ClippingFalseAlarmTest {
    static List<Arguments> clean() {
        return List.of(
                ClippedTakes.kind("sweep of constant amplitude, 24 bit", s -> {
                    Random r = new Random(s);
                    return ClippedTakes.sweep(s, r)
                            .times(0.9 * ClippedTakes.decades(r, -2))
                            .quantised(24);
                }),
                ClippedTakes.kind("sweep of constant amplitude, 16 bit, down to a few steps", s -> {
                    Random r = new Random(s);
                    return ClippedTakes.sweep(s, r)
                            .times(0.9 * ClippedTakes.decades(r, -4))
                            .quantised(16);
                }),
                ClippedTakes.kind("sweep of constant amplitude with noise", s -> {
                    Random r = new Random(s);
                    return ClippedTakes.sweep(s, r).times(0.9).plusWhite(0.01 * ClippedTakes.decades(r, -3), s);
                }),
                ClippedTakes.kind("sweep in a room, 24 bit", s -> {
                    Random r = new Random(s);
                    double peak = 0.7 * ClippedTakes.decades(r, -2);
                    return ClippedTakes.sweep(s, r)
                            .room(r)
                            .scaledToPeak(peak)
                            .plusWhite(1e-5, s)
                            .quantised(24);
                }),
                ClippedTakes.kind("sweep in a room, 16 bit, down to a few steps", s -> {
                    Random r = new Random(s);
                    double peak = 0.7 * ClippedTakes.decades(r, -4);
                    return ClippedTakes.sweep(s, r)
                            .room(r)
                            .scaledToPeak(peak)
                            .plusWhite(3e-5 * r.nextDouble(), s)
                            .quantised(16);
                }),
                ClippedTakes.kind("sweep with a resonance at a quarter of the sample rate", s -> {
                    Random r = new Random(s);
                    SyntheticTake t = ClippedTakes.sweep(s, r);
                    return t.resonance(t.fs / 4, 5 + 50 * r.nextDouble(), 10)
                            .scaledToPeak(0.7)
                            .quantised(24);
                }),
                ClippedTakes.kind("sweep with a resonance of few samples per cycle", s -> {
                    Random r = new Random(s);
                    SyntheticTake t = ClippedTakes.sweep(s, r);
                    double hz = Math.min(19000, t.fs / (2.3 + 4 * r.nextDouble()));
                    return t.resonance(hz, 5 + 50 * r.nextDouble(), 10)
                            .scaledToPeak(0.7)
                            .quantised(24);
                }),
                ClippedTakes.kind(
                        "gaussian noise",
                        s -> new SyntheticTake(Noise.whiteGaussian(96000, 0.1, s), 48000).quantised(24)),
                ClippedTakes.kind(
                        "uniform noise",
                        s -> new SyntheticTake(
                                        new Random(s).doubles(96000, -0.5, 0.5).toArray(), 48000)
                                .quantised(24)),
                ClippedTakes.kind("pink noise, 16 bit, down to a few steps", s -> {
                    double rms = 0.1 * ClippedTakes.decades(new Random(s), -4);
                    return new SyntheticTake(Noise.pink(131072, rms, 48000, s), 48000).quantised(16);
                }),
                ClippedTakes.kind("hum with harmonics and noise", s -> {
                    Random r = new Random(s);
                    double hz = (r.nextBoolean() ? 49.5 : 59.5) + r.nextDouble();
                    SyntheticTake third =
                            SyntheticTake.sine(48000, 3, 3 * hz, 0.003 * r.nextDouble(), 6 * r.nextDouble());
                    return SyntheticTake.sine(48000, 3, hz, 0.01, 6 * r.nextDouble())
                            .plus(third.x)
                            .plusWhite(1e-3 * ClippedTakes.decades(r, -3), s)
                            .quantised(24);
                }),
                ClippedTakes.kind("hum of a few 16-bit steps", s -> {
                    Random r = new Random(s);
                    double peak = 3e-5 * ClippedTakes.decades(r, 2);
                    return SyntheticTake.sine(
                                    ClippedTakes.RATES[(int) (s % 3)],
                                    2,
                                    20 + 100 * r.nextDouble(),
                                    peak,
                                    6 * r.nextDouble())
                            .plusWhite(6e-5 * r.nextDouble(), s)
                            .quantised(16);
                }),
                ClippedTakes.kind("tone with few repeating phases", s -> {
                    Random r = new Random(s);
                    double hz = 48000.0 / (3 + r.nextInt(80)) * (1 + r.nextInt(2));
                    double noise = 0.01 * ClippedTakes.decades(r, -5);
                    return SyntheticTake.sine(48000, 2, hz, 0.5, 6 * r.nextDouble())
                            .plusWhite(noise, s)
                            .quantised(24);
                }),
                ClippedTakes.kind("1 kHz at 48 kHz", s -> {
                    double peak = 0.5 * new Random(s).nextDouble();
                    return SyntheticTake.sine(48000, 2, 1000, peak, s * Math.PI / 4)
                            .quantised(s % 2 == 0 ? 16 : 24);
                }),
                ClippedTakes.kind("saturation by up to half a decibel", s -> {
                    Random r = new Random(s);
                    SyntheticTake t = s % 2 == 0 ? ClippedTakes.sweep(s, r).room(r) : ClippedTakes.sweep(s, r);
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
        for (long seed = 0; seed < ClippedTakes.CASES; seed++) {
            String which = "seed " + seed + " ";
            maker.apply(seed).scan().clipping().ifPresent(c -> alarms.add(which + c.inWords()));
        }
        assertThat(alarms).as(name).isEmpty();
    }
}
