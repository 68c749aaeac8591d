package ohmprint.app.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import ohmprint.app.BadInputException;
import ohmprint.app.record.Recording.Step;
import org.junit.jupiter.api.Test;

/** A session that is opened again: where it goes on, what can be added, what is settled. */
class ResumedRecordingTest extends BenchInNumbers {
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
}
