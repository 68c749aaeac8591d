package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.SplittableRandom;
import java.util.function.DoubleFunction;
import ohmprint.estimation.RatioSmoothness.Band;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Drawn bins of two takes: sound with the phase of chance, what is in front of it, and noise of stated variance. */
class RatioSmoothnessTest {
    private static final double VARIANCE = 1e-4;
    private static final int BINS = 20_000;
    private static final double BIN_HZ = 1;

    /** Bins at 1 Hz from 1 Hz on; the second take is the first times a ratio. */
    private static BinObservations drawn(DoubleFunction<Complex> ratio, long seed) {
        double[] hz = new double[BINS];
        for (int i = 0; i < BINS; i++) {
            hz[i] = (i + 1) * BIN_HZ;
        }
        SplittableRandom draw = new SplittableRandom(seed);
        BinObservations obs = new BinObservations(2, hz, 1);
        for (int i = 0; i < BINS; i++) {
            Complex sound = gaussian(draw, 1);
            Complex first = sound.add(gaussian(draw, VARIANCE));
            Complex second = sound.multiply(ratio.apply(hz[i])).add(gaussian(draw, VARIANCE));
            obs.setSnapshot(i, new double[] {first.getReal(), second.getReal()}, new double[] {
                first.getImaginary(), second.getImaginary()
            });
            obs.setNoise(i, 0, VARIANCE);
            obs.setNoise(i, 1, VARIANCE);
        }
        return obs;
    }

    /** The second take against the first. */
    private static List<Band> bands(BinObservations obs) {
        return RatioSmoothness.of(obs, 1, 0, 40, 16_000);
    }

    /** A complex deviate with {@code E|x|² = variance}. */
    private static Complex gaussian(SplittableRandom draw, double variance) {
        double size = Math.sqrt(-variance * Math.log(1 - draw.nextDouble()));
        double turn = 2 * Math.PI * draw.nextDouble();
        return new Complex(size * Math.cos(turn), size * Math.sin(turn));
    }

    /** The dividers of a coil with a resonance of this Q at 60 Hz, loaded with 200 Ω, over the same without load. */
    private static Complex divider(double hz, double q) {
        double x = q * (hz / 60 - 60 / hz);
        Complex z = new Complex(200, 2 * Math.PI * hz * 1e-3).add(new Complex(150).divide(new Complex(1, x)));
        return Complex.ONE.divide(z.divide(200).add(1));
    }

    @ParameterizedTest
    @ValueSource(doubles = {1, 4, 8})
    void dividersLeaveNothingButNoise(double q) {
        List<Band> bands = bands(drawn(hz -> divider(hz, q), 7));
        assertThat(bands).hasSizeGreaterThan(70);
        assertThat(bands.stream().mapToDouble(b -> b.left().ratio()).average().orElseThrow())
                .as("χ² over its freedom")
                .isCloseTo(1, within(0.06));
        assertThat(bands).allSatisfy(b -> assertThat(b.left().pValue()).isGreaterThan(1e-5));
        assertThat(bands.stream().filter(b -> b.residual() == 0).count())
                .as("bands that leave over less than the noise")
                .isBetween(bands.size() / 3L, 2L * bands.size() / 3);
    }

    /** Two paths, one of them 10 ms longer and 2 % as strong: a vector of that length that turns once in 100 Hz. */
    @Test
    void anotherPathShowsItsSize() {
        double ripple = 0.02;
        List<Band> bands = bands(drawn(
                hz -> divider(hz, 1)
                        .multiply(new Complex(0, 2 * Math.PI * hz * 1e-2)
                                .exp()
                                .multiply(ripple)
                                .add(1)),
                11));
        Band high = bands.stream()
                .filter(b -> b.frequencyHz() > 10_000 && b.frequencyHz() < 11_000)
                .findFirst()
                .orElseThrow();
        assertThat(high.residual()).isCloseTo(ripple, within(0.1 * ripple));
        assertThat(high.left().pValue()).isLessThan(1e-9);
    }

    @Test
    void takesBelowTheirNoiseAreNotJudged() {
        assertThat(bands(drawn(hz -> new Complex(0.01), 3))).isEmpty();
    }
}
