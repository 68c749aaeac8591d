package ohmprint.app.record;

import static org.assertj.core.api.Assertions.assertThat;

import ohmprint.curve.FindingCode;
import org.junit.jupiter.api.Test;

/** What is found in a take as soon as it is recorded: the step from the load before, wrong resistors, drift, spoilt sound. */
class TakeFaultsTest extends BenchInNumbers {
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
        assertThat(report.findings().get(0).message()).contains("the sound comes 20 ms later than before");
    }
}
