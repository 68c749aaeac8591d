package ohmprint.app.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import ohmprint.app.measure.TakeFiles;
import ohmprint.app.measure.TakeInspection;
import ohmprint.audiodevice.RunReport;
import ohmprint.audiofile.AudioFiles;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavWriter;
import ohmprint.dsp.SampleSource;
import ohmprint.dsp.Samples;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import ohmprint.session.Take;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What is found in a take as soon as it is recorded: the step from the load before, wrong resistors, drift, spoilt sound. */
@Tag("statistics")
class TakeFaultsTest extends BenchInNumbers {
    private static final int RATE = 44_100;

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
        assertThat(second.findings().get(0).message())
                .contains(
                        "A resistor of either take, the gain or a position can be the cause: check that both resistors");
    }

    /** Three points lie on a line again when any one of them is moved: the takes cannot show which load is wrong. */
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3})
    void ofThreeContradictingTakesNoneIsBlamed(int wrong) throws Exception {
        Recording recording = ready(150.0, 1500.0, 470.0);
        TakeReport third = recorded(recording, wrong, 220, 150, 1500, 470);
        assertThat(codes(third)).containsExactly(FindingCode.LOAD_MISMATCH);
        assertThat(third.usable()).isFalse();
        String message = third.findings().get(0).message();
        assertThat(message)
                .startsWith("takes 1 to 3 contradict each other")
                .contains("these takes cannot show which one is wrong")
                .contains("check all three resistors");
        // What was fitted is one of the ways out.
        Matcher candidate =
                Pattern.compile("take " + wrong + " with about (\\d+) Ω").matcher(message);
        assertThat(candidate.find()).as(message).isTrue();
        assertThat(Double.parseDouble(candidate.group(1))).isCloseTo(220, withinPercentage(10));
        assertThat(recording.repeat()).isEqualTo("take-3.repeated-1.wav");
    }

    @Test
    void threeTakesThatAgreeAgainAreNotDoubted() throws Exception {
        Recording recording = ready(150.0, 1500.0, 470.0);
        recorded(recording, 3, 330, 150, 1500, 470);
        recording.repeat();
        assertThat(take(recording, 470).findings()).isEmpty();
    }

    /** With four loads the one that is wrong is the only one without which the others agree. */
    @ParameterizedTest
    @CsvSource({"1, 220", "2, 680", "3, 330", "4, 1000"})
    void ofFourTakesTheWrongOneIsNamed(int wrong, double ohm) throws Exception {
        Recording recording = ready(150.0, 1500.0, 470.0, OPEN);
        TakeReport fourth = recorded(recording, wrong, ohm, 150, 1500, 470, OPEN);
        assertThat(codes(fourth)).containsExactly(FindingCode.LOAD_MISMATCH);
        Finding finding = fourth.findings().get(0);
        assertThat(finding.take()).isEqualTo("take-" + wrong + ".wav");
        assertThat(finding.message())
                .startsWith(wrong == 4 ? "this take" : "take " + wrong)
                .contains("contradicts the other three, which agree");
        Matcher fits = Pattern.compile("a load of about (\\d+) Ω would fit").matcher(finding.message());
        assertThat(fits.find()).as(finding.message()).isTrue();
        assertThat(Double.parseDouble(fits.group(1))).isCloseTo(ohm, withinPercentage(10));
        assertThat(fourth.usable())
                .as("an earlier one is no reason to repeat this one")
                .isEqualTo(wrong != 4);
    }

    /** Records takes with the loads that are entered, one of them with another resistor; keeps all but the last. */
    private TakeReport recorded(Recording recording, int wrong, double fitted, double... entered) throws Exception {
        for (int i = 1; i < entered.length; i++) {
            take(recording, i == wrong ? fitted : entered[i - 1]);
            recording.keep();
        }
        return take(recording, entered.length == wrong ? fitted : entered[entered.length - 1]);
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
        assertThat(last.findings().get(0).message())
                .contains("against take-1.wav with the same load: one of the two had another resistor");
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
    void aTakeThatNoiseNearlyCoversIsToldWithItsContrast() throws Exception {
        Recording recording = ready(150.0, 1500.0);
        bench.noise = 300;
        TakeReport report = take(recording, 150);
        assertThat(report.findings())
                .anySatisfy(
                        f -> assertThat(f.message()).matches("stands only \\d+ dB above the noise; play louder, .*"));
        bench.noise = 1;
        recording.repeat();
        assertThat(take(recording, 150).findings()).isEmpty();
    }

    @Test
    void aTakeThatEndsInsideItsSoundIsTold() throws Exception {
        Path session = Path.of("fixtures/sessions/ribbon-shorted-turns");
        Session whole = new SessionReader(TakeFiles.probe()).read(session);
        Take take = whole.takes().get(0);
        double[] sound = PlayedSound.read(session.resolve("stimulus.wav"), RATE).samples();
        Path folder = Files.createDirectories(folder());
        try (SampleSource from = AudioFiles.open(session.resolve(take.file()));
                WavWriter to = WavWriter.create(folder.resolve("cut.wav"), 1, RATE, WavEncoding.PCM_24)) {
            int half = (int) from.frames() / 2;
            to.write(new double[][] {Samples.channel(from, take.channel() - 1, half)}, 0, half);
        }
        assertThat(checked(whole, session, take.file(), sound)).noneMatch(m -> m.startsWith("ends before the sound"));
        assertThat(checked(whole, folder, "cut.wav", sound))
                .contains("ends before the sound has died away; give a longer tail or stop what still sounds");
    }

    private static List<String> checked(Session of, Path folder, String file, double[] sound) throws IOException {
        Session session = new Session(folder, of.microphone(), of.input(), List.of());
        TakeInspection seen =
                TakeInspection.of(session, new Take(file, of.takes().get(0).load()));
        RunReport run = new RunReport(seen.indicators().frames(), 24, false, 0);
        return new RecordedTake(session, seen, run, sound, TakeLevels.of(seen), List.of())
                .findings(null).stream().map(Finding::message).toList();
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
