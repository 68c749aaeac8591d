package ohmprint.app.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CancellationException;
import ohmprint.app.BadInputException;
import ohmprint.app.record.Recording.Step;
import ohmprint.audiodevice.SoundException;
import ohmprint.audiofile.WavReader;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** A session recorded from the cautions to its last take, and what interrupts it. */
@Tag("slow")
class RecordingTest extends BenchInNumbers {
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
