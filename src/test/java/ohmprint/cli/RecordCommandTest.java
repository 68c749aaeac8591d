package ohmprint.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import ohmprint.audiodevice.SoundSystem.DeviceFormat;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** {@code record} and {@code devices} as a technician meets them. */
@Tag("slow")
class RecordCommandTest extends HandsAtTheBench {
    @Test
    void aPersonIsLedFromTheCautionsToTheLastTake() throws IOException {
        int code = run(record(NEW), "", "@1500", "", "@150", "", "@1500", "", "@150", "k");
        assertThat(code).as(stderr).isZero();
        assertThat(stderr)
                .containsSubsequence(
                        "Phantom power off and discharged",
                        "No ohmmeter on a ribbon",
                        "hearing protection",
                        "Press Enter when you have read this",
                        "Plan: 3 takes of",
                        "Level: fit 1500 Ω across pins 2 and 3",
                        "Level: peak",
                        "headroom",
                        "Gain: well set.",
                        "Expected: signal",
                        "Take 1 of 3: fit 150 Ω across pins 2 and 3",
                        "Take 1, 150 Ω: peak",
                        "good.",
                        "Take 2 of 3: fit 1500 Ω",
                        "dB against take-1.wav; good.",
                        "Take 3 of 3: fit 150 Ω");
        assertThat(stdout)
                .contains("takes       take-1.wav, take-2.wav, take-3.wav")
                .contains("next        ohmprint measure ");
        assertThat(Files.readString(dir.resolve("session/session.yaml"))).contains("file: take-3.wav");
    }

    @Test
    void whatANewSessionLacksIsAskedFor() throws IOException {
        String[] brief = {"--seconds", "1", "--level", "-18", "--lead", "0.6", "--tail", "0.4"};
        assertThat(run(record(brief), "Bench ribbon 7", "unknown", "150, open", "q"))
                .as("stopped")
                .isEqualTo(6);
        assertThat(Files.readString(dir.resolve("session/session.yaml")))
                .contains("label: Bench ribbon 7")
                .contains("resistance_ohm: unknown");
        assertThat(stdout).contains("takes       none").contains("next        ohmprint record ");
    }

    @Test
    void aClippedLevelIsStatedAsTheLeastAndPredictsNothing() {
        bench.ceiling = 0.02;
        assertThat(run(record(NEW), "", "@1500", "q")).as("stopped").isEqualTo(6);
        assertThat(stderr)
                .contains("Level: peak at least -34.0 dBFS, clipped")
                .contains("Gain: lower it by at least 6 dB; the true peak is not known")
                .doesNotContain("Expected:");
    }

    /** Every prompt gets nonsense first; the right answers behind it make a session. */
    @Test
    void aWrongAnswerAsksAgain() throws IOException {
        String[] brief = {"--seconds", "1", "--level", "-18", "--lead", "0.6", "--tail", "0.4"};
        int code = run(
                record(brief),
                "", // label
                "Bench ribbon 7",
                "3k ohms", // input
                "-5",
                "3000",
                "150", // loads
                "150,x",
                "150,1500",
                "hello", // cautions
                "",
                "?", // level
                "s",
                "?", // take 1
                "@150",
                "?", // keep it?
                "k",
                "q");
        assertThat(code).as(stderr).isEqualTo(6);
        assertThat(stderr)
                .containsSubsequence(
                        "the answer is empty; give what the bench calls the microphone",
                        "the answer holds 3k ohms; give a plain number from 0.001 Ω to 1000000000 Ω",
                        "the answer holds -5; give",
                        "the answer is 150; give two or more different loads",
                        "the answer holds x; give",
                        "Please answer with one of g, q, or Enter.",
                        "Please answer with one of p, s, q, or Enter.",
                        "Please answer with one of g, q, or Enter.",
                        "Please answer with one of k, r, q, or Enter.");
        assertThat(Files.readString(dir.resolve("session/session.yaml"))).contains("file: take-1.wav");
    }

    @Test
    void wrongAnswersEndWithTheInput() {
        assertThat(run(record(), "Bench ribbon 7", "nonsense", "more nonsense")).isEqualTo(2);
        assertThat(stderr).contains("standard input ended at: Resistance of the recording input");
    }

    @Test
    void aWrongOptionIsRefusedBeforeAnythingIsAsked() {
        assertThat(run(record("--tolerance", "x"), "Bench ribbon 7", "3000", "150,1500"))
                .isEqualTo(2);
        assertThat(stderr).contains("--tolerance holds x").doesNotContain("what the bench calls it");
    }

    @Test
    void aBadTakeIsRepeatedUnlessThePersonInsists() {
        int code = run(record(NEW), "", "s", "@150", "", "@150", "", "@1500", "", "q");
        assertThat(code).as("stopped").isEqualTo(6);
        assertThat(stderr).contains("Stopped: 2 of 3 takes are recorded and kept.");
        assertThat(stderr)
                .containsSubsequence(
                        "load-mismatch: take-2.wav: is ",
                        "dB against take-1.wav; from 150 Ω to 1500 Ω about +6.0 dB are expected of 200 Ω",
                        "not usable.",
                        "Enter repeats it, k keeps it all the same",
                        "put aside as take-2.repeated-1.wav",
                        "Take 2 of 3: fit 1500 Ω",
                        "good.");
        assertThat(stdout).contains("takes       take-1.wav, take-2.wav").contains("ohmprint record ");
    }

    @Test
    void aPersonCanReconnectALostDevice() {
        bench.lostAfter = 1;
        int code = run(record(NEW), "", "s", "@150", "q");
        assertThat(code).as("stopped").isEqualTo(6);
        assertThat(stderr)
                .containsSubsequence(
                        "what was recorded of it is kept as take-1.unusable-1.wav",
                        "bench input stopped recording; connect it again",
                        "Take 1 of 3: fit 150 Ω");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "--yes | a new session needs --label, --input and --loads",
                "--yes --label x --input 3000 | a new session needs --loads",
                "--label x --input nothing --loads 150,1500 | --input holds nothing; give a plain number from 0.001 Ω",
                "--label x --input 3000 --loads 150 | --loads is 150; give two or more different loads",
                "--label x --input 3000 --loads 150,x | --loads holds x",
                "--rated 200 | the microphone has no name; give --label too",
                "--wait 5 | --wait is for unattended recording",
                "--yes --wait soon | --wait holds soon; give a plain number from 0 s",
                "--stimulus a.wav --seconds 3 | --stimulus is played as it is",
                "--sound noise --from 30 | --from and --to are for a sweep",
                "--from 1000 --to 100 | --from is 1000 Hz and --to is 100 Hz",
                "--channel 1.5 | --channel is 1.5; give a whole number",
                "--label x --transducer horn | --transducer is horn; choose moving-coil, ribbon, condenser or other",
            })
    void whatCannotBeMeantIsObjectedTo(String options, String objection) {
        assertThat(run(record(options.split(" ")), "Bench", "3000", "150,1500")).isEqualTo(2);
        assertThat(stderr).contains(objection);
        assertThat(dir.resolve("session")).doesNotExist();
    }

    @Test
    void devicesAreListedInWordsAndAsJson() {
        assertThat(run(new String[] {"devices"})).isZero();
        assertThat(stdout)
                .contains("bench input  (a bench that does not exist)")
                .contains("records   48000 Hz   2 channels  24 bits, verified")
                .contains("plays     96000 Hz   2 channels  converted: the device itself runs at 48000 Hz");
        assertThat(run(new String[] {"devices", "--json", "--device", "BENCH"})).isZero();
        assertThat(stdout).contains("\"sample_rate_hz\":48000,\"channels\":2,\"bits\":24");
        assertThat(run(new String[] {"devices", "--device", "other"})).isEqualTo(2);
        assertThat(stderr).contains("no sound device is called other; there is bench input");
    }

    @Test
    void withoutADeviceNothingIsWritten() {
        bench.own = null;
        assertThat(run(record(with(NEW, "--yes")))).isEqualTo(2);
        assertThat(dir.resolve("session")).doesNotExist();
        bench.own = new DeviceFormat("bench input", 44_100, 2);
        assertThat(run(record(with(NEW, "--yes", "--rate", "48000")))).isEqualTo(2);
        assertThat(stderr).contains("record with --rate 44100");
    }
}
