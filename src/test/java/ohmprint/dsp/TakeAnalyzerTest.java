package ohmprint.dsp;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

@Tag("statistics")
class TakeAnalyzerTest {
    @Test
    void levelsOfASineFollowTheirClosedForms() {
        double[] x = SyntheticTake.sine(48000, 2, 1000, 0.5, 0).x;
        for (int n = 0; n < x.length; n++) {
            x[n] += 0.125;
        }
        TakeIndicators t = new SyntheticTake(x, 48000).scan();
        assertThat(t.frames()).isEqualTo(96000);
        assertThat(t.peak()).isCloseTo(0.625, within(1e-7));
        assertThat(t.peakFrame()).isEqualTo(12);
        assertThat(t.dcOffset()).isCloseTo(0.125, within(1e-7));
        // Mean square of a sine a²/2, and the square of the offset.
        assertThat(t.rms()).isCloseTo(Math.sqrt(0.125 + 0.125 * 0.125), within(1e-7));
        // The envelope leaves the offset out: −6.02 − 3.01 dB.
        assertThat(t.envelope().levelDbfs(50)).isCloseTo(-9.031, within(0.001));
        assertThat(t.envelope().blockSeconds()).isEqualTo(0.01);
        assertThat(t.envelope().size()).isEqualTo(200);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 17, 4095, 4096, 4097, 100_000})
    void aSourceThatGivesPartsOfAnySizeGivesTheSameResult(int size) throws IOException {
        SyntheticTake take = messyTake();
        SampleSource parts = new ArraySource(take.fs, take.x) {
            @Override
            public int read(double[][] into, int offset, int count) throws IOException {
                return super.read(into, offset, Math.min(size, count));
            }
        };
        assertSame(TakeAnalyzer.of(parts, 0, -1).indicators(), take.scan());
    }

    @Test
    void eachChannelIsScannedByItself() throws IOException {
        SyntheticTake take = messyTake();
        double[] other = Noise.whiteGaussian(take.x.length, 0.01, 4);
        double[] unused = Noise.whiteGaussian(take.x.length, 0.5, 5);
        TakeAnalyzer scan = TakeAnalyzer.of(new ArraySource(take.fs, other, unused, take.x), 2, 0);
        assertSame(scan.indicators(), take.scan());
        assertSame(scan.reference(), new SyntheticTake(other, take.fs).scan());
        assertThat(TakeAnalyzer.of(new ArraySource(take.fs, other, take.x), 1, -1)
                        .reference())
                .isNull();
    }

    @Test
    void zerosAtTheStartAreCounted() throws IOException {
        double[] x = new double[20_000];
        assertThat(TakeAnalyzer.of(new ArraySource(48_000, x), 0, -1).leadingZeros())
                .isEqualTo(20_000);
        x[9_999] = Math.scalb(-1, -31);
        x[10_001] = 0.5;
        assertThat(TakeAnalyzer.of(new ArraySource(48_000, x), 0, -1).leadingZeros())
                .isEqualTo(9_999);
        x[0] = 1e-9;
        assertThat(TakeAnalyzer.of(new ArraySource(48_000, x), 0, -1).leadingZeros())
                .isZero();
    }

    @Test
    void aLastBlockThatIsNotFullDoesNotDiluteTheLevel() {
        SyntheticTake take = SyntheticTake.sine(48000, 0.1, 480, 0.5, 0);
        TakeIndicators t = take.scan();
        assertThat(t.frames()).isEqualTo(4800);
        assertThat(t.rms()).isCloseTo(0.5 / Math.sqrt(2), within(1e-6));
    }

    @Test
    void floatingPointTakesAboveFullScaleKeepTheirLevel() {
        SyntheticTake take = SyntheticTake.sine(48000, 1, 480, 3.5, 0);
        assertThat(take.scan().peak()).isCloseTo(3.5, within(1e-5));
    }

    @Test
    void failureOfTheSourceIsPassedOn() {
        SampleSource broken = new ArraySource(48000, new double[10_000]) {
            @Override
            public int read(double[][] into, int offset, int count) throws IOException {
                throw new IOException("disk gone");
            }
        };
        assertThatThrownBy(() -> TakeAnalyzer.of(broken, 0, -1))
                .isInstanceOf(IOException.class)
                .hasMessage("disk gone");
        assertThatThrownBy(() -> TakeAnalyzer.of(broken, 1, -1)).isInstanceOf(IndexOutOfBoundsException.class);
        assertThatThrownBy(() -> TakeAnalyzer.of(broken, 0, 1)).isInstanceOf(IndexOutOfBoundsException.class);
    }

    @Test
    void silenceHasNoPeak() {
        assertThat(ArraySource.scan(48000, new double[100]).peakFrame()).isEqualTo(-1);
    }

    @Test
    void anEmptyTakeHasNoIndicators() {
        TakeIndicators t = ArraySource.scan(48000, new double[0]);
        assertThat(t.frames()).isZero();
        assertThat(t.onsetFrame()).isEmpty();
    }

    @ParameterizedTest
    @CsvSource({"0.3, -70", "1, -70", "1, -50", "2, -90"})
    void soundIsFoundBetweenSteadyHumAndNoise(double lead, double humDb) {
        int late = 0;
        for (long seed = 0; seed < 40; seed++) {
            Random r = new Random(seed);
            SyntheticTake t = new SyntheticTake(Noise.pink(144000, 0.1, 48000, seed), 48000).withSilence(lead, lead);
            double[] hum =
                    SyntheticTake.sine(48000, 20, 50 + r.nextDouble(), Math.pow(10, humDb / 20), 6 * r.nextDouble()).x;
            TakeIndicators i = t.plus(hum).plusWhite(1e-4, seed).quantised(24).scan();
            double onset = i.onsetFrame().orElseThrow() / 48000.0;
            double end = i.endFrame().orElseThrow() / 48000.0;
            assertThat(onset).as("seed %s", seed).isCloseTo(lead, within(0.03));
            assertThat(end).as("seed %s", seed).isCloseTo(lead + 3, within(0.03));
            double floor = 10 * Math.log10(Math.pow(10, humDb / 10) / 2 + 1e-8);
            assertThat(i.leadInDbfs()).as("seed %s", seed).isCloseTo(floor, within(2.5));
            assertThat(i.tailDbfs()).as("seed %s", seed).isCloseTo(floor, within(2.5));
            late += onset > lead + 0.01 ? 1 : 0;
        }
        assertThat(late).isLessThan(5);
    }

    @Test
    void sweepOnsetIsFoundAtItsFadeInAndNotLater() {
        for (long seed = 0; seed < 30; seed++) {
            Random r = new Random(seed);
            SyntheticTake t = SyntheticTake.sweep(48000, 3, 0.3)
                    .room(r)
                    .withSilence(0.5, 0.5)
                    .plusWhite(1e-4, seed);
            double onset = t.scan().onsetFrame().orElseThrow() / 48000.0;
            // The fade-in lasts L·ln √2 = 0.15 s; 26 dB below it the noise hides no more than its first third.
            assertThat(onset).as("seed %s", seed).isBetween(0.48, 0.56);
        }
    }

    @Test
    void aTakeThatStartsAndEndsInsideTheSoundHasNoLeadIn() {
        for (long seed = 0; seed < 100; seed++) {
            double[] x = Noise.pink(200_000, 0.1, 48000, seed);
            TakeIndicators t = new SyntheticTake(x, 48000).scan();
            assertThat(t.onsetFrame()).as("seed %s", seed).isEmpty();
            assertThat(t.endFrame()).as("seed %s", seed).isEmpty();
            assertThat(t.leadInDbfs()).isNaN();
            assertThat(t.tailDbfs()).isNaN();
        }
    }

    @Test
    void digitalSilenceAroundASoundIsLeadInAndTail() {
        TakeIndicators t =
                SyntheticTake.sine(48000, 1, 1000, 0.1, 0).withSilence(0.4, 0.2).scan();
        assertThat(t.onsetFrame().orElseThrow()).isEqualTo(19200);
        assertThat(t.endFrame().orElseThrow()).isEqualTo(67200);
        assertThat(t.leadInDbfs()).isLessThan(-100);
    }

    @Test
    void longTakesAreCoarsenedAndKeepTheirLevel() {
        LevelMeter.LevelEnvelope envelope =
                SyntheticTake.sine(1000, 1600, 100, 0.5, 0.3).scan().envelope();
        assertThat(envelope.blockFrames()).isEqualTo(40);
        assertThat(envelope.size()).isEqualTo(40_000);
        assertThat(envelope.levelDbfs(0, 40_000)).isCloseTo(-9.031, within(0.001));
    }

    @Test
    void aFiveMinuteChannelAtNinetySixKilohertzTakesSecondsAtMost() throws IOException {
        double[] second = SyntheticTake.sweep(96000, 3, 0.5).quantised(24).x;
        SampleSource repeated = new ArraySource(96000, second) {
            private long at;

            @Override
            public int read(double[][] into, int offset, int count) {
                int from = (int) (at % second.length);
                int n = (int) Math.min(Math.min(count, second.length - from), 28_800_000 - at);
                System.arraycopy(second, from, into[0], offset, n);
                at += n;
                return n;
            }
        };
        var clock = ManagementFactory.getThreadMXBean();
        long start = clock.getCurrentThreadCpuTime();
        assertThat(TakeAnalyzer.of(repeated, 0, -1).indicators().frames()).isEqualTo(28_800_000);
        assertThat((clock.getCurrentThreadCpuTime() - start) / 1e9).isLessThan(4);
    }

    private static SyntheticTake messyTake() {
        SyntheticTake t =
                SyntheticTake.sweep(48000, 1.3, 0.5).room(new Random(3)).scaledToPeak(0.8);
        return t.clipped(-0.5, 0.5).withSilence(0.333, 0.2).plusWhite(1e-5, 9).quantised(24);
    }

    private static void assertSame(TakeIndicators a, TakeIndicators b) {
        assertThat(a.frames()).isEqualTo(b.frames());
        assertThat(a.peak()).isEqualTo(b.peak());
        assertThat(a.peakFrame()).isEqualTo(b.peakFrame());
        assertThat(a.rms()).isCloseTo(b.rms(), within(1e-9));
        assertThat(a.dcOffset()).isCloseTo(b.dcOffset(), within(1e-9));
        assertThat(a.clipping()).isEqualTo(b.clipping());
        assertThat(a.dropouts()).isEqualTo(b.dropouts());
        assertThat(a.onsetFrame()).isEqualTo(b.onsetFrame());
        assertThat(a.endFrame()).isEqualTo(b.endFrame());
        assertThat(a.envelope().size()).isEqualTo(b.envelope().size());
    }
}
