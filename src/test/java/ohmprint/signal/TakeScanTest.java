package ohmprint.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

@Tag("statistics")
class TakeScanTest {
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
        assertThat(t.crestDb()).isCloseTo(20 * Math.log10(0.625 / Math.sqrt(0.140625)), within(1e-5));
        // The envelope leaves the offset out: −6.02 − 3.01 dB.
        assertThat(t.envelope().levelDbfs(50)).isCloseTo(-9.031, within(0.001));
        assertThat(t.envelope().blockSeconds()).isEqualTo(0.01);
        assertThat(t.envelope().size()).isEqualTo(200);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 17, 4095, 4096, 4097, 100_000})
    void blocksOfAnySizeGiveTheSameResult(int size) {
        SyntheticTake take = messyTake();
        TakeScan scan = new TakeScan(take.fs);
        for (int from = 0; from < take.x.length; from += size) {
            scan.accept(take.x, from, Math.min(take.x.length, from + size));
        }
        assertSame(scan.result(), take.scan());
    }

    @Test
    void readingASourceGivesTheSameAsHandingOverBlocks() throws IOException {
        SyntheticTake take = messyTake();
        double[] other = Noise.whiteGaussian(take.x.length, 0.01, 4);
        SampleSource source = new ArraySource(take.fs, other, take.x);
        assertSame(TakeScan.scan(source, 1), take.scan());
        SampleSource again = new ArraySource(take.fs, other, take.x);
        assertSame(
                TakeScan.scan(again, 0),
                new SyntheticTake(other, take.fs).quantised(28).scan());
    }

    @Test
    void aLastBlockThatIsNotFullDoesNotDiluteTheLevel() throws IOException {
        SyntheticTake take = SyntheticTake.sine(48000, 0.1, 480, 0.5, 0);
        TakeIndicators t = TakeScan.scan(take.asSource(), 0);
        assertThat(t.frames()).isEqualTo(4800);
        assertThat(t.rms()).isCloseTo(0.5 / Math.sqrt(2), within(1e-6));
    }

    @Test
    void floatingPointTakesAboveFullScaleKeepTheirLevel() throws IOException {
        SyntheticTake take = SyntheticTake.sine(48000, 1, 480, 3.5, 0);
        assertThat(TakeScan.scan(take.asSource(), 0).peak()).isCloseTo(3.5, within(1e-5));
    }

    @Test
    void failureOfTheSourceIsPassedOn() {
        SampleSource broken = new ArraySource(48000, new double[10_000]) {
            @Override
            public int read(double[][] into, int offset, int count) throws IOException {
                throw new IOException("disk gone");
            }
        };
        assertThatThrownBy(() -> TakeScan.scan(broken, 0))
                .isInstanceOf(IOException.class)
                .hasMessage("disk gone");
        assertThatThrownBy(() -> TakeScan.scan(broken, 1)).isInstanceOf(IndexOutOfBoundsException.class);
    }

    @Test
    void aFinishedScanTakesNoMore() {
        TakeScan scan = new TakeScan(48000);
        scan.accept(new double[100], 0, 100);
        assertThat(scan.result().peakFrame()).isEqualTo(-1);
        assertThatThrownBy(() -> scan.accept(new double[1], 0, 1)).isInstanceOf(IllegalStateException.class);
    }

    @Test
    void anEmptyTakeHasNoIndicators() {
        TakeIndicators t = new TakeScan(48000).result();
        assertThat(t.frames()).isZero();
        assertThat(t.crestDb()).isNaN();
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
        TakeScan scan = new TakeScan(1000);
        double[] block = SyntheticTake.sine(1000, 100, 100, 0.5, 0.3).x;
        for (int i = 0; i < 16; i++) {
            scan.accept(block, 0, block.length);
        }
        LevelEnvelope envelope = scan.result().envelope();
        assertThat(envelope.blockFrames()).isEqualTo(40);
        assertThat(envelope.size()).isEqualTo(40_000);
        assertThat(envelope.levelDbfs(0, 40_000)).isCloseTo(-9.031, within(0.001));
    }

    @Test
    void aFiveMinuteChannelAtNinetySixKilohertzTakesSecondsAtMost() {
        double[] second = SyntheticTake.sweep(96000, 3, 0.5).quantised(24).x;
        TakeScan scan = new TakeScan(96000);
        long start = System.nanoTime();
        for (long n = 0; n < 28_800_000; n += second.length) {
            scan.accept(second, 0, second.length);
        }
        assertThat(scan.result().frames()).isGreaterThanOrEqualTo(28_800_000);
        // Measured below half a second on an idle machine; the bound leaves room for a busy one.
        assertThat((System.nanoTime() - start) / 1e9).isLessThan(4);
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
