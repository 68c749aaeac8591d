package ohmprint.session;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.OffsetDateTime;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.impedance.Microphone;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SessionReaderTest {
    private static final String SMALLEST = """
            version: 1
            microphone: {label: Bench ribbon 7}
            input: {resistance_ohm: 3000}
            takes:
              - {file: take-1.wav, load_ohm: 150}
              - {file: take-2.wav, load_ohm: open}
            """;

    @TempDir
    Path folder;

    private Bench bench;

    @BeforeEach
    void plantTakes() throws IOException {
        bench = new Bench(folder).audio("take-1.wav", "take-2.wav", "take-3.wav", "take-4.wav", "stimulus.wav");
    }

    @Test
    void versionOneManifestIsReadForEver() throws Exception {
        Files.copy(Path.of("fixtures/session/session-v1.yaml"), folder.resolve(Session.MANIFEST));
        Session session = bench.read();
        assertThat(session.folder()).isEqualTo(folder);
        assertThat(session.microphone())
                .isEqualTo(new Microphone(
                        "Bench ribbon 7",
                        "Hollow Elm Audio",
                        "HE-2",
                        "0042",
                        "ribbon",
                        300.0,
                        1500.0,
                        "Re-ribboned; \"soft\" tension"));
        assertThat(session.input())
                .isEqualTo(InputImpedance.ofOhms(3000, 2.5, 470, 10).withPhantomFeeds());
        assertThat(session.inputCurveFile()).isNull();
        assertThat(session.stimulus()).isEqualTo(new Stimulus(StimulusKind.SWEEP, "stimulus.wav"));
        assertThat(session.stimulusPath()).contains(folder.resolve("stimulus.wav"));
        assertThat(session.takes())
                .containsExactly(
                        new Take("take-1.wav", Load.ofOhms(150, 0.1), 2, 1, null, null),
                        new Take("take-2.wav", Load.measured(998.7, 0.4)),
                        new Take(
                                "take-3.wav",
                                Load.open(),
                                1,
                                null,
                                "level unchanged",
                                OffsetDateTime.parse("2031-05-04T16:20:00+02:00")),
                        new Take("take-4.wav", Load.ofOhms(150, 1)));
        assertThat(session.path(session.takes().get(0))).isEqualTo(folder.resolve("take-1.wav"));
        assertThat(session.levelDriftPercent()).isEqualTo(0.3);
        assertThat(session.operator()).isEqualTo("R. Quill");
        assertThat(session.workshop()).isEqualTo("Lantern Yard Repairs");
        assertThat(session.notes()).isEqualTo("Dead room, 0.5 m.\nRails at 18 °C.\n");
    }

    @Test
    void smallestManifestGetsTheDocumentedDefaults() throws Exception {
        Session session = bench.manifest(SMALLEST).read();
        assertThat(session.input()).isEqualTo(InputImpedance.ofOhms(3000, 5));
        assertThat(session.takes())
                .containsExactly(
                        new Take("take-1.wav", Load.ofOhms(150, 1), 1, null, null, null),
                        new Take("take-2.wav", Load.open(), 1, null, null, null));
        assertThat(session.stimulus()).isNull();
        assertThat(session.levelDriftPercent()).isNull();
    }

    @Test
    void capacitanceWithoutToleranceGetsTwentyPercent() throws Exception {
        Session session = bench.manifest(SMALLEST.replace("3000}", "3000, capacitance_pf: 470}"))
                .read();
        assertThat(session.input()).isEqualTo(InputImpedance.ofOhms(3000, 5, 470, 20));
    }

    @Test
    void unknownInputHasToBeSaidAndMayHaveACableCapacitance() throws Exception {
        assertThat(bench.manifest(SMALLEST.replace("3000", "unknown")).read().input())
                .isEqualTo(InputImpedance.unknown());
        assertThat(bench.manifest(SMALLEST.replace("3000", "unknown, capacitance_pf: 300"))
                        .read()
                        .input())
                .isEqualTo(InputImpedance.unknownResistance(300, 20));
    }

    @Test
    void manifestIsReadByItsOwnPathUnderAnyName() throws Exception {
        Path other = Files.writeString(folder.resolve("second.yaml"), SMALLEST);
        assertThat(bench.reader().read(other))
                .isEqualTo(bench.manifest(SMALLEST).read());
    }

    @Test
    void byteOrderMarkAndWindowsLineEndsMakeNoDifference() throws Exception {
        Session plain = bench.manifest(SMALLEST).read();
        assertThat(bench.manifest("\uFEFF" + SMALLEST.replace("\n", "\r\n")).read())
                .isEqualTo(plain);
    }

    @Test
    void lineNumbersAreRightWithWindowsLineEndsToo() throws Exception {
        String wrong = SMALLEST.replace("150", "0");
        assertThat(bench.problems(wrong)).startsWith("session.yaml:5: takes[0].load_ohm is 0 Ω");
        assertThat(bench.problems("\uFEFF" + wrong.replace("\n", "\r\n")))
                .startsWith("session.yaml:5: takes[0].load_ohm is 0 Ω");
    }

    @Test
    void repeatedLoadIsAllowedBesideAnotherLoad() throws Exception {
        Session session = bench.manifest(SMALLEST + "  - {file: take-3.wav, load_ohm: 150}\n")
                .read();
        assertThat(session.takes()).hasSize(3);
    }

    @Test
    void openTakeMayCarryATolerance() throws Exception {
        Session session = bench.manifest(SMALLEST.replace("open", "open, load_tolerance_percent: 1"))
                .read();
        assertThat(session.takes().get(1).load()).isEqualTo(Load.open());
    }

    @Test
    void takesMayLieInAFolderOfTheSession() throws Exception {
        bench.audio("takes/a.wav");
        Session session =
                bench.manifest(SMALLEST.replace("take-1.wav", "takes/a.wav")).read();
        assertThat(session.path(session.takes().get(0))).exists();
    }

    @Test
    void oneFileMayHoldTwoTakesOnDifferentChannels() throws Exception {
        Session session = bench.manifest(SMALLEST.replace("take-2.wav", "take-1.wav, channel: 2"))
                .read();
        assertThat(session.takes().get(1).channel()).isEqualTo(2);
    }

    @Test
    void eachFileIsProbedOnce() throws Exception {
        int[] calls = {0};
        SessionReader reader = new SessionReader(file -> {
            calls[0]++;
            return Bench.STEREO;
        });
        bench.manifest(SMALLEST.replace("take-2.wav", "take-1.wav, channel: 2"));
        reader.read(folder);
        assertThat(calls[0]).isEqualTo(1);
    }

    @Test
    void unfinishedSessionMayHaveNoTakeYet() throws Exception {
        bench.manifest(SMALLEST.substring(0, SMALLEST.indexOf("takes:")) + "takes: []\n");
        assertThat(bench.reader().readUnfinished(folder).takes()).isEmpty();
        assertThat(bench.problems()).contains("takes holds no take");
    }

    @Test
    void inputCurveIsReadFromItsFile() throws Exception {
        bench.file("input.csv", "\uFEFF" + """
                frequency_hz,magnitude_ohm,resistance_ohm,reactance_ohm,magnitude_u95_ohm,status
                100,2000,2000,0,40,measured
                500,,,,,rejected
                10000,1000,600,-800,,measured
                """);
        Session session = bench.manifest(SMALLEST.replace("resistance_ohm: 3000", "curve: input.csv"))
                .read();
        assertThat(session.inputCurveFile()).isEqualTo("input.csv");
        assertThat(session.input())
                .isEqualTo(InputImpedance.ofCurve(
                        new double[] {100, 10_000},
                        new Complex[] {new Complex(2000), new Complex(600, -800)},
                        new double[] {0.01, 0.01}));
    }
}
