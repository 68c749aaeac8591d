package ohmprint.app.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.offset;

import java.util.Locale;
import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import ohmprint.impedance.FindingCode;
import ohmprint.loopback.SoundlessBench;
import ohmprint.loopback.SoundlessBench.Fault;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Lost sound is judged by the samples. The sweep runs from 20 Hz to 20 kHz within a second, so a share p of it lies at
 * 20·1000^p Hz: 0.1 at 40 Hz, 0.3 at 160 Hz, 0.5 at 630 Hz, 0.9 at 10 kHz.
 */
@Tag("slow")
class LostSoundTest extends BenchInNumbers {
    private static final Pattern DISPLACED = Pattern.compile("the sound comes (\\d+) ms (later|earlier) than before");
    /** Correlation width of a quarter of the sweep from 20 to 112 Hz, 1/(2π·25 Hz), and of one from 112 to 630 Hz, in whole ms. */
    private static final double LOW_MILLIS = 6;

    private static final double WIDTH_MILLIS = 2;

    private TakeReport report() throws Exception {
        return take(ready(150.0, 1500.0), 150);
    }

    /** A busy computer: blocks come late, and every sample is there. */
    @ParameterizedTest
    @CsvSource({"0.036, false", "0.2, false", "0, true", "0.036, true"})
    void lateBlocksAndAnOutputThatSeemedEmptyAreNoLossWhenAllSamplesAreThere(double lost, boolean empty)
            throws Exception {
        bench.lostSeconds = lost;
        bench.ranEmpty = empty;
        TakeReport report = report();
        assertThat(report.findings()).isEmpty();
        assertThat(report.usable()).isTrue();
    }

    /** Whatever the times say, also nothing. */
    @ParameterizedTest
    @CsvSource({"0.3, 50", "0.5, 20", "0.75, 5", "0.75, 120", "0.9, 10"})
    void missingSamplesAreFoundByWhatFollowsThem(double at, double millis) throws Exception {
        fault(Fault.DROPPED, at, millis);
        TakeReport report = report();
        assertThat(report.usable()).isFalse();
        assertThat(codes(report)).containsOnly(FindingCode.DROPOUT);
        assertThat(displacement(report)).isCloseTo(-millis, offset(at < 0.5 ? LOW_MILLIS : WIDTH_MILLIS));
    }

    @ParameterizedTest
    @CsvSource({"0.3, 50", "0.5, 20", "0.75, 5", "0.9, 10"})
    void insertedZerosAreFoundByWhatFollowsThem(double at, double millis) throws Exception {
        fault(Fault.INSERTED, at, millis);
        TakeReport report = report();
        assertThat(report.usable()).isFalse();
        assertThat(displacement(report)).isCloseTo(millis, offset(at < 0.5 ? LOW_MILLIS : WIDTH_MILLIS));
    }

    private static double displacement(TakeReport report) {
        return report.findings().stream()
                .map(f -> DISPLACED.matcher(f.message()))
                .filter(Matcher::find)
                .mapToDouble(m -> Double.parseDouble(m.group(1)) * (m.group(2).equals("later") ? 1 : -1))
                .findFirst()
                .orElseThrow();
    }

    @ParameterizedTest
    @CsvSource({"0.1, 40", "0.5, 5", "0.75, 100", "0.9, 2"})
    void zerosInThePlaceOfSamplesAreFound(double at, double millis) throws Exception {
        fault(Fault.ZEROED, at, millis);
        TakeReport report = report();
        assertThat(report.usable()).isFalse();
        assertThat(report.findings())
                .anySatisfy(f -> assertThat(f.message())
                        .startsWith(String.format(Locale.ROOT, "stands still for %.1f ms", millis)));
    }

    /** Nothing displaces what a sweep of 40 Hz makes of 40 ms; the edge decides when the times point to a loss. */
    @ParameterizedTest
    @ValueSource(doubles = {0.03, 0.05, 0.1})
    void aLossWhereTheSoundIsTooLowToPlaceIsASuspicionWhenAnEdgeShows(double at) throws Exception {
        fault(Fault.DROPPED, at, 40);
        bench.lostSeconds = 0.04;
        TakeReport report = report();
        assertThat(codes(report)).containsExactly(FindingCode.DROPOUT);
        assertThat(report.findings().get(0).message())
                .contains("about 40 ms of the recording may be missing, by the times at which it came")
                .contains("the sound jumps within its first");
        assertThat(report.usable()).isFalse();
    }

    @Test
    void aSuspicionThatNoiseCoversIsTold() throws Exception {
        bench.lostSeconds = 0.04;
        bench.noise = 300;
        assertThat(report().findings())
                .anySatisfy(f -> assertThat(f.message())
                        .contains("may be missing, by the times")
                        .contains("the samples cannot show it"));
    }

    @Test
    void withoutTheSoundOnlyTheTimesAreLeftAndThatIsSaid() throws Exception {
        bench.lostSeconds = 0.04;
        bench.volume = 0;
        assertThat(report().findings())
                .extracting(f -> f.code())
                .contains(FindingCode.NOT_COHERENT, FindingCode.DROPOUT);
    }

    /** A second and more counts as a pause elsewhere; here the sound is known to go on. */
    @Test
    void aRecordingThatFallsSilentIsFound() throws Exception {
        fault(Fault.ZEROED, 0.5, 30_000);
        RecordRequest.Sound longer = new RecordRequest.Sound(null, false, 4, 20, 20_000, -18);
        RecordRequest usual = request(BENCH, 200.0, 150.0, 1500.0);
        Recording recording = Recording.open(
                new RecordRequest(folder(), usual.microphone(), usual.input(), usual.loads(), longer, BENCH, null),
                bench,
                listener);
        recording.cautionsRead();
        recording.levelAccepted();
        TakeReport report = take(recording, 150);
        double half = bench.runs.get(0).sound().length / 2.0 / SoundlessBench.RATE;
        assertThat(codes(report)).contains(FindingCode.DROPOUT);
        Matcher told = Pattern.compile("stands still for (.+) s from (.+) s of the sound on")
                .matcher(report.findings().get(0).message());
        assertThat(told.find()).as("%s", report.findings()).isTrue();
        assertThat(Double.parseDouble(told.group(1))).isCloseTo(half, offset(0.1));
        assertThat(Double.parseDouble(told.group(2))).isCloseTo(half, offset(0.1));
    }

    /** Noise of 0.7 s four times over fits a period early and late too; nothing was lost. */
    @Test
    void aSoundThatRepeatsItselfIsNotTakenForInterrupted() {
        Random random = new Random(3);
        double[] period = random.doubles(33_600, -0.5, 0.5).toArray();
        double[] sound = IntStream.range(0, 4 * period.length)
                .mapToDouble(i -> period[i % period.length])
                .toArray();
        double[] take = new double[4 * 48_000];
        for (int i = 0; i < take.length; i++) {
            take[i] = 1e-3 * random.nextGaussian() + (i >= 24_000 && i < 24_000 + sound.length ? sound[i - 24_000] : 0);
        }
        SegmentContinuity.Gap.Search search = SegmentContinuity.Gap.search(sound, take, 48_000, 0);
        assertThat(search.delayFrames()).isEqualTo(24_000L);
        assertThat(search.gap()).isNull();
    }

    private void fault(Fault fault, double at, double millis) {
        bench.fault = fault;
        bench.faultAt = at;
        bench.faultMillis = millis;
    }
}
