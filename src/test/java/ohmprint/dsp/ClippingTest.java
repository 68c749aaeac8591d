package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What is told of flat tops: how long, how high, to which side, and where. */
@Tag("statistics")
class ClippingTest {
    @ParameterizedTest
    @ValueSource(doubles = {0.999, 0.5, 0.25})
    void durationLevelAndPlaceAreThoseOfTheCut(double level) {
        for (long seed = 0; seed < 20; seed++) {
            Random r = new Random(seed);
            SyntheticTake t = ClippedTakes.sweep(seed, r).room(r);
            double c = ClippedTakes.levelOfFlat(t, 20);
            double[] x = t.x;
            int first = 0;
            while (Math.abs(x[first]) < c) {
                first++;
            }
            Clipping clipping = ClippedTakes.cut(t, c, level, 1e-4, seed)
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
            SyntheticTake t = ClippedTakes.sweep(seed, r).room(r);
            double c = ClippedTakes.levelOfFlat(t, 30);
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
            SyntheticTake t = ClippedTakes.sweep(seed, r).room(r);
            Clipping c = t.times(1 / ClippedTakes.levelOfFlat(t, 5))
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
                .isEqualTo("clips for 41 ms at -6.0 dBFS from 1.234 s");
        assertThat(new Clipping(1.26, -0.001, Clipping.Polarity.NEGATIVE, 0).inWords())
                .isEqualTo("clips for 1.3 ms at 0.0 dBFS (negative half-waves) from 0.000 s");
    }
}
