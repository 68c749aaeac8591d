package ohmprint.app.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import ohmprint.app.BadInputException;
import ohmprint.audiodevice.FormatTrial;
import ohmprint.audiodevice.SoundSystem.DeviceFormat;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What is refused before anything is written: devices, channels, formats, loads. */
class RefusedRecordingTest extends BenchInNumbers {
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
}
