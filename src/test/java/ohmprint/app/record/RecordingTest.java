package ohmprint.app.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.CancellationException;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.MeasureOutcome;
import ohmprint.app.MeasureRequest;
import ohmprint.app.MeasureSession;
import ohmprint.app.Progress;
import ohmprint.audio.DeviceFormat;
import ohmprint.audio.FormatTrial;
import ohmprint.audio.SoundException;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
import ohmprint.curve.Microphone;
import ohmprint.soundbench.SoundlessBench;
import ohmprint.wav.WavReader;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A session recorded on a bench that exists only in numbers: steps, checks, files, faults. */
class RecordingTest {
    private static final double OPEN = Double.POSITIVE_INFINITY;
    private static final RecordRequest.Sound SHORT = new RecordRequest.Sound(null, false, 1, 20, 20_000, -18);
    private static final RecordRequest.Bench BENCH =
            new RecordRequest.Bench(null, null, null, null, null, null, 0.6, 0.4);

    @TempDir
    Path dir;

    private final SoundlessBench bench = new SoundlessBench();
    private final List<String> notes = new ArrayList<>();
    private final List<Step> steps = new ArrayList<>();
    private int readings;

    private final RecordListener listener = new RecordListener() {
        @Override
        public void noted(String message) {
            notes.add(message);
        }

        @Override
        public void stepped(Step step) {
            steps.add(step);
        }

        @Override
        public void heard(double peakDbfs, double rmsDbfs, double share) {
            readings++;
        }
    };

    private Path folder() {
        return dir.resolve("session");
    }

    private RecordRequest request(RecordRequest.Bench with, Double rated, Double... ohms) {
        Microphone microphone = new Microphone("Bench coil 4", null, null, null, null, rated, null, null);
        RecordRequest.Input input = new RecordRequest.Input(3000, 0.1, 470);
        return new RecordRequest(folder(), microphone, input, RecordRequest.Loads.ofOhms(ohms), SHORT, with, null);
    }

    private Recording open(Double... ohms) throws BadInputException, IOException {
        return Recording.open(request(BENCH, 200.0, ohms), bench, listener);
    }

    private Recording resumed() throws BadInputException, IOException {
        return Recording.open(RecordRequest.of(folder()), bench, listener);
    }

    /** Up to the first take, without a level check. */
    private Recording ready(Double... ohms) throws BadInputException, IOException {
        Recording recording = open(ohms);
        recording.cautionsRead();
        recording.levelAccepted();
        return recording;
    }

    private TakeReport take(Recording recording, double ohm) throws BadInputException, IOException {
        bench.ohm = ohm;
        return recording.recordTake();
    }

    private List<String> files() {
        try (Stream<Path> files = Files.list(folder())) {
            return files.map(f -> f.getFileName().toString()).sorted().toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static List<FindingCode> codes(TakeReport report) {
        return report.findings().stream().map(Finding::code).toList();
    }

    @Test
    void aSessionGoesFromCautionsOverLevelToItsTakesAndTheFirstLoadAgain() throws Exception {
        Recording recording = open(150.0, 1500.0);
        assertThat(recording.step()).isEqualTo(Step.CAUTIONS);
        recording.cautionsRead();
        bench.ohm = recording.levelOhm();
        assertThat(bench.ohm).isEqualTo(1500);
        LevelReport level = recording.checkLevel();
        assertThat(level.acceptable()).isTrue();
        assertThat(level.findings()).isEmpty();
        recording.levelAccepted();
        assertThat(recording.remainingOhms()).containsExactly(150.0, 1500.0, 150.0);
        for (double ohm : List.copyOf(recording.remainingOhms())) {
            TakeReport report = take(recording, ohm);
            assertThat(report.findings()).isEmpty();
            assertThat(report.usable()).isTrue();
            recording.keep();
        }
        assertThat(recording.step()).isEqualTo(Step.DONE);
        assertThat(steps).containsSubsequence(Step.LEVEL, Step.SOUNDING, Step.LEVEL, Step.FIT, Step.JUDGE, Step.DONE);
        assertThat(readings).isGreaterThan(60);
        assertThat(notes).isEmpty();
        assertThat(files())
                .containsExactly(
                        "recording.json", "session.yaml", "stimulus.wav", "take-1.wav", "take-2.wav", "take-3.wav");
    }

    /**
     * The forecast of the level check against what the session states once it is measured, first load repeated. It expects 200 Ω at
     * all frequencies, where the bench has a coil.
     */
    @Test
    void theSessionStatesWhatTheLevelCheckForetold() throws Exception {
        Recording recording = open(150.0, 1500.0);
        recording.cautionsRead();
        bench.ohm = 1500;
        double foretold =
                Objects.requireNonNull(recording.checkLevel().predicted()).medianPercent();
        recording.levelAccepted();
        for (double ohm : List.copyOf(recording.remainingOhms())) {
            take(recording, ohm);
            recording.keep();
        }
        MeasureOutcome measured = MeasureSession.run(MeasureRequest.of(folder()), Progress.SILENT);
        double[] stated = measured.measurement().curve().values().stream()
                .mapToDouble(
                        v -> v.isMeasured() ? 100 * v.magnitudeU95Ohm() / v.magnitudeOhm() : Double.POSITIVE_INFINITY)
                .sorted()
                .toArray();
        assertThat(stated[stated.length / 2] / foretold).isBetween(0.9, 1.1);
    }

    /**
     * With 1 % of drift little else counts: √1.5·(Z + R_a)(Z + R_b)/((R_b − R_a)·Z) with 200 Ω, and 150 and 1500 Ω across 3 kΩ,
     * times Student's t of 4 degrees, 2.776 (JCGM 100:2008, table G.2), is 8.16 % (closed form).
     */
    @Test
    void theDriftThatAManifestStatesIsForetold() throws Exception {
        open(150.0, 1500.0);
        Path manifest = folder().resolve("session.yaml");
        Files.writeString(manifest, Files.readString(manifest) + "\nlevel_drift_percent: 1\n");
        Recording after = resumed();
        after.cautionsRead();
        bench.ohm = 1500;
        double stated = Objects.requireNonNull(after.checkLevel().predicted()).medianPercent();
        assertThat(stated).isCloseTo(8.16, withinPercentage(3));
    }

    /** 20·lg((1 + Z/y…)) by the divider with |Z| = 201 Ω at 1 kHz (closed form): 6.07 dB from 150 to 1500 Ω. */
    @Test
    void theStepBetweenLoadsIsTold() throws Exception {
        Recording recording = ready(150.0, 1500.0);
        assertThat(take(recording, 150).stepDb()).isNull();
        recording.keep();
        TakeReport second = take(recording, 1500);
        double y = 1.0 / 3000;
        double expected = 20 * Math.log10((1 + 201 * (1 / 150.0 + y)) / (1 + 201 * (1 / 1500.0 + y)));
        assertThat(second.stepDb()).isCloseTo(expected, org.assertj.core.data.Offset.offset(0.1));
        assertThat(second.comparedTo()).isEqualTo("take-1.wav");
    }

    @Test
    void aResistorThatIsNotConnectedShowsInTheSecondTake() throws Exception {
        Recording recording = ready(OPEN, 150.0);
        take(recording, OPEN);
        recording.keep();
        TakeReport second = take(recording, OPEN);
        assertThat(codes(second)).containsExactly(FindingCode.LOAD_MISMATCH);
        assertThat(second.usable()).isFalse();
        assertThat(second.findings().get(0).message()).contains("check that both resistors");
    }

    @Test
    void aWrongResistorShowsInTheThirdTakeWithTheValueThatFits() throws Exception {
        Recording recording = ready(150.0, 1500.0, 470.0);
        take(recording, 150);
        recording.keep();
        take(recording, 1500);
        recording.keep();
        TakeReport third = take(recording, 330);
        assertThat(codes(third)).containsExactly(FindingCode.LOAD_MISMATCH);
        assertThat(third.findings().get(0).message()).contains("a load of about 33");
        assertThat(recording.repeat()).isEqualTo("take-3.repeated-1.wav");
        assertThat(take(recording, 470).findings()).isEmpty();
    }

    @Test
    void anotherResistorInPlaceOfTheRepeatedOneShows() throws Exception {
        Recording recording = ready(150.0, 1500.0);
        take(recording, 150);
        recording.keep();
        take(recording, 1500);
        recording.keep();
        TakeReport last = take(recording, 220);
        assertThat(codes(last)).containsExactly(FindingCode.LOAD_MISMATCH);
        recording.repeat();
        bench.gain = 1.012;
        TakeReport drifted = take(recording, 150);
        assertThat(codes(drifted)).containsExactly(FindingCode.LEVEL_DRIFT);
        assertThat(drifted.usable()).isTrue();
        assertThat(drifted.stepDb()).isCloseTo(0.104, org.assertj.core.data.Offset.offset(0.02));
    }

    @Test
    void driftOfTheSourceIsNoFaultWithAReferenceChannel() throws Exception {
        RecordRequest.Bench two = new RecordRequest.Bench(null, null, null, null, 1, 2, 0.6, 0.4);
        Recording recording = Recording.open(request(two, 200.0, 150.0, 1500.0), bench, listener);
        recording.cautionsRead();
        recording.levelAccepted();
        take(recording, 150);
        recording.keep();
        take(recording, 1500);
        recording.keep();
        bench.volume = 1.03;
        TakeReport last = take(recording, 150);
        assertThat(last.findings()).isEmpty();
        assertThat(last.stepDb()).isCloseTo(0, org.assertj.core.data.Offset.offset(0.02));
        recording.keep();
        assertThat(recording.session().takes())
                .allSatisfy(t -> assertThat(t.referenceChannel()).isEqualTo(2));
    }

    @Test
    void aTakeThatClipsIsNotUsable() throws Exception {
        Recording recording = ready(150.0, 1500.0);
        bench.ceiling = 0.05;
        TakeReport report = take(recording, 150);
        assertThat(codes(report)).contains(FindingCode.CLIPPED);
        assertThat(report.usable()).isFalse();
    }

    @Test
    void silenceIsNotUsable() throws Exception {
        Recording recording = open(150.0, 1500.0);
        recording.cautionsRead();
        bench.gain = 0;
        LevelReport level = recording.checkLevel();
        assertThat(level.acceptable()).isFalse();
        recording.levelAccepted();
        TakeReport report = take(recording, 150);
        assertThat(report.usable()).isFalse();
        assertThat(codes(report)).contains(FindingCode.LOW_SNR, FindingCode.NOT_COHERENT);
    }

    @Test
    void aSoundThatIsInterruptedIsNotUsable() throws Exception {
        Recording recording = ready(150.0, 1500.0);
        bench.gapMillis = 20;
        TakeReport report = take(recording, 150);
        assertThat(codes(report)).containsExactly(FindingCode.DROPOUT);
        assertThat(report.findings().get(0).message()).contains("20 ms off the rest");
    }

    @Test
    void theLevelCheckSuggestsAGain() throws Exception {
        Recording recording = open(150.0, 1500.0);
        recording.cautionsRead();
        bench.ohm = 1500;
        double peak = recording.checkLevel().peakDbfs();
        bench.gain = Math.pow(10, (-30 - peak) / 20);
        assertThat(recording.checkLevel().gainChangeDb()).isCloseTo(22, org.assertj.core.data.Offset.offset(0.3));
        bench.gain = Math.pow(10, (-1 - peak) / 20);
        assertThat(recording.checkLevel().gainChangeDb()).isCloseTo(-7, org.assertj.core.data.Offset.offset(0.3));
        bench.ceiling = 0.3;
        LevelReport clipped = recording.checkLevel();
        assertThat(clipped.acceptable()).isFalse();
        assertThat(clipped.gainChangeDb()).isLessThanOrEqualTo(-6);
        assertThat(files()).doesNotContain(SessionFolder.TRIAL);
    }

    @Test
    void methodsOutOfTurnAreRefusedAndChangeNothing() throws Exception {
        Recording recording = open(150.0, 1500.0);
        assertThatThrownBy(recording::recordTake).isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(recording::keep).isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(recording::repeat).isInstanceOf(IllegalStateException.class);
        assertThat(recording.step()).isEqualTo(Step.CAUTIONS);
        assertThat(files()).containsExactly("recording.json", "session.yaml", "stimulus.wav");
    }

    @Test
    void aLostDeviceLeavesThePartAsUnusableAndTheTakeCanBeRecordedAgain() throws Exception {
        Recording recording = ready(150.0, 1500.0);
        bench.lostAfter = 1;
        assertThatThrownBy(() -> take(recording, 150))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("connect it again")
                .hasCauseInstanceOf(SoundException.class);
        assertThat(recording.step()).isEqualTo(Step.FIT);
        assertThat(files()).contains("take-1.unusable-1.wav").doesNotContain("take-1.wav");
        assertThat(notes).singleElement().asString().contains("take-1.unusable-1.wav");
        try (WavReader part = WavReader.open(folder().resolve("take-1.unusable-1.wav"))) {
            assertThat(part.frames()).isBetween(48_000L, 60_000L);
        }
        bench.lostAfter = Double.POSITIVE_INFINITY;
        assertThat(take(recording, 150).usable()).isTrue();
        recording.keep();
        assertThat(recording.takes()).containsExactly("take-1.wav");
    }

    @Test
    void aTakeCanBeBrokenOff() throws Exception {
        Recording recording = ready(150.0, 1500.0);
        bench.halfway = recording::cancel;
        assertThatThrownBy(() -> take(recording, 150)).isInstanceOf(CancellationException.class);
        assertThat(recording.step()).isEqualTo(Step.FIT);
        assertThat(files()).contains("take-1.unusable-1.wav");
        bench.halfway = () -> {};
        assertThat(take(recording, 150).usable())
                .as("the next one runs to its end")
                .isTrue();
    }

    @Test
    void aSessionGoesOnWhereItStopped() throws Exception {
        Recording first = ready(150.0, 1500.0);
        take(first, 150);
        first.keep();
        take(first, 1500);
        // The process ends here: the second take is recorded but not judged.
        Recording second = resumed();
        assertThat(notes).singleElement().asString().contains("take-2.unusable-1.wav");
        assertThat(second.remainingOhms()).containsExactly(1500.0, 150.0);
        second.cautionsRead();
        assertThat(second.step()).as("the gain must not change any more").isEqualTo(Step.FIT);
        TakeReport report = take(second, 1500);
        assertThat(report.number()).isEqualTo(2);
        assertThat(report.stepDb())
                .as("compared with the take of the first run")
                .isNotNull();
        second.keep();
        take(second, 150);
        second.keep();
        assertThat(second.step()).isEqualTo(Step.DONE);
        assertThat(resumed().step()).isEqualTo(Step.DONE);
    }

    @Test
    void moreLoadsCanBeAddedToASession() throws Exception {
        Recording first = ready(150.0, 1500.0);
        take(first, 150);
        first.keep();
        RecordRequest more = new RecordRequest(
                folder(), null, null, RecordRequest.Loads.ofOhms(150.0, 470.0, 1500.0), null, BENCH, null);
        assertThat(Recording.open(more, bench, listener).remainingOhms()).containsExactly(470.0, 1500.0, 150.0);
    }

    @Test
    void whatIsSettledCannotBeGivenAgain() throws Exception {
        open(150.0, 1500.0);
        assertThatThrownBy(() -> open(150.0, 1500.0))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("holds a session already");
        RecordRequest.Bench faster = new RecordRequest.Bench(null, null, 96_000, null, null, null, null, null);
        assertThatThrownBy(() -> Recording.open(
                        new RecordRequest(folder(), null, null, null, null, faster, null), bench, listener))
                .hasMessageContaining("48000 Hz, not at 96000 Hz");
    }

    @Test
    void aTakeThatTheManifestDoesNotNameIsLeftAloneAndTold() throws Exception {
        Recording first = ready(150.0, 1500.0);
        take(first, 150);
        first.keep();
        Files.copy(folder().resolve("take-1.wav"), folder().resolve("take-2.wav"));
        Recording second = resumed();
        assertThat(notes).singleElement().asString().contains("take-2.wav is in the folder but not in the manifest");
        second.cautionsRead();
        assertThat(take(second, 1500).file()).isEqualTo("take-3.wav");
    }

    @Test
    void aDeviceThatConvertsIsRefusedBeforeAnythingIsWritten() {
        bench.own = new DeviceFormat("bench input", 44_100, 2);
        RecordRequest.Bench wanted = new RecordRequest.Bench(null, null, 96_000, null, null, null, null, null);
        assertThatThrownBy(() -> Recording.open(request(wanted, null, 150.0, 1500.0), bench, listener))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("bench input does not run at 96000 Hz but at 44100 Hz")
                .hasMessageContaining("record with --rate 44100");
        assertThat(folder()).doesNotExist();
    }

    @Test
    void channelsThatDoNotExistOrWouldBeMixedAreRefused() {
        RecordRequest.Bench third = new RecordRequest.Bench(null, null, null, null, 3, null, null, null);
        assertThatThrownBy(() -> Recording.open(request(third, null, 150.0, 1500.0), bench, listener))
                .hasMessageContaining("channel 3 does not exist: bench input has 2 channels");
        RecordRequest.Bench mixed = new RecordRequest.Bench(null, null, null, 1, null, null, null, null);
        assertThatThrownBy(() -> Recording.open(request(mixed, null, 150.0, 1500.0), bench, listener))
                .hasMessageContaining("would mix them");
        RecordRequest.Bench same = new RecordRequest.Bench(null, null, null, null, 1, 1, null, null);
        assertThatThrownBy(() -> Recording.open(request(same, null, 150.0, 1500.0), bench, listener))
                .hasMessageContaining("cannot be both");
        assertThat(folder()).doesNotExist();
    }

    @ParameterizedTest
    @EnumSource(
            value = FormatTrial.Verdict.class,
            names = {"WRONG_PACE", "DEAD", "REFUSED", "CONVERTED"})
    void aFormatThatDoesNotWorkIsRefusedBeforeAnythingIsWritten(FormatTrial.Verdict verdict) {
        bench.verdict = verdict;
        assertThatThrownBy(() -> open(150.0, 1500.0))
                .isInstanceOf(BadInputException.class)
                .hasMessageMatching("(?s).*(the recording device|bench input).*");
        assertThat(folder()).doesNotExist();
    }

    @Test
    void fewerThanTwoDifferentLoadsAreRefused() {
        assertThatThrownBy(() -> open(150.0, 150.0)).hasMessageContaining("two or more different loads");
        assertThat(folder()).doesNotExist();
    }

    @Test
    void aSoundFileCanBePlayedInsteadOfASweep() throws Exception {
        open(150.0, 1500.0);
        Path own = dir.resolve("own.wav");
        Files.move(folder().resolve("stimulus.wav"), own);
        Files.delete(folder().resolve("session.yaml"));
        RecordRequest.Sound file = new RecordRequest.Sound(own, false, 8, 20, 20_000, -12);
        RecordRequest with = request(BENCH, null, 150.0, 1500.0);
        Recording recording = Recording.open(
                new RecordRequest(folder(), with.microphone(), with.input(), with.loads(), file, BENCH, null),
                bench,
                listener);
        assertThat(folder().resolve("stimulus.wav")).hasSameBinaryContentAs(own);
        recording.cautionsRead();
        recording.levelAccepted();
        assertThat(take(recording, 150).usable()).isTrue();
    }
}
