package ohmprint.session;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.impedance.Microphone;
import ohmprint.session.AudioProbe.AudioShape;
import ohmprint.yaml.ManifestException;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SessionWriterTest {
    private static final List<String> AWKWARD = List.of(
            "7",
            "true",
            "null",
            "~",
            "unknown",
            "a: b # c",
            "- x",
            "*star",
            "&and",
            "!bang",
            "%p",
            "@at",
            "two\nlines\n",
            " spaces ",
            "\"quoted\" 'both'",
            "Ωµ°±∥",
            "\uD83C\uDF99",
            "tab\there",
            "2031-05-04",
            "\u0007bell",
            "{x}",
            "x,",
            "a\r\nb");

    @TempDir
    Path folder;

    private static Microphone microphone(String label) {
        return new Microphone(label, null, null, null, null, null, null, null);
    }

    private Session small() {
        return new Session(
                folder,
                microphone("Bench coil 3"),
                InputImpedance.ofOhms(3000, 5, 470, 20),
                List.of(new Take("a.wav", Load.ofOhms(150, 1)), new Take("b.wav", Load.open())));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void whateverIsWrittenIsReadBackEqual(long seed) throws Exception {
        Random random = new Random(seed);
        for (int i = 0; i < 100; i++) {
            Session session = any(random);
            SessionWriter.write(session);
            Bench bench = new Bench(folder);
            for (Take take : session.takes()) {
                bench.audio(take.file(), new AudioShape(9, 48_000, 1));
            }
            bench.audio("played.wav");
            assertThat(bench.read()).as("seed %d, session %d", seed, i).isEqualTo(session);
        }
    }

    private Session any(Random random) {
        List<Take> takes = new ArrayList<>();
        for (int i = 0; i < 2 + random.nextInt(4); i++) {
            Load load = i == 0
                    ? Load.open()
                    : random.nextBoolean()
                            ? Load.ofOhms(number(random), random.nextInt(100) / 8.0)
                            : Load.measured(1 + random.nextDouble() * 2000, random.nextDouble());
            OffsetDateTime time = random.nextBoolean()
                    ? null
                    : OffsetDateTime.of(
                            2031, 5, 4, 16, 20, random.nextInt(60), 0, ZoneOffset.ofHours(random.nextInt(5)));
            takes.add(new Take(
                    "take " + i + ".wav",
                    load,
                    1 + random.nextInt(4),
                    random.nextBoolean() ? null : 5 + random.nextInt(4),
                    text(random),
                    time));
        }
        InputImpedance known = InputImpedance.ofOhms(number(random), 5, random.nextInt(3) * 235.5, 20);
        InputImpedance input = List.of(
                        known,
                        known.withPhantomFeeds(),
                        InputImpedance.unknown(),
                        InputImpedance.unknownResistance(99, 9))
                .get(random.nextInt(4));
        return new Session(
                folder,
                new Microphone(
                        AWKWARD.get(random.nextInt(AWKWARD.size())),
                        text(random),
                        text(random),
                        text(random),
                        random.nextBoolean() ? null : "moving-coil",
                        random.nextBoolean() ? null : number(random),
                        random.nextBoolean() ? null : number(random),
                        text(random)),
                input,
                null,
                random.nextBoolean()
                        ? null
                        : new Stimulus(StimulusKind.NOISE, random.nextBoolean() ? null : "played.wav"),
                takes,
                random.nextBoolean() ? null : random.nextDouble(),
                text(random),
                text(random),
                text(random));
    }

    private static @Nullable String text(Random random) {
        return random.nextInt(3) == 0 ? null : AWKWARD.get(random.nextInt(AWKWARD.size()));
    }

    /** Over all decades that a manifest may state, whole and broken. */
    private static double number(Random random) {
        double value = Math.pow(10, random.nextDouble() * 11.9 - 3);
        return random.nextBoolean() ? Math.ceil(value) : value;
    }

    @Test
    void manifestReadsLikeOneThatAPersonWrote() {
        assertThat(SessionWriter.text(small())).isEqualTo("""
                        version: 1
                        microphone:
                          label: Bench coil 3
                        input:
                          resistance_ohm: 3000
                          resistance_tolerance_percent: 5
                          capacitance_pf: 470
                          capacitance_tolerance_percent: 20
                        takes:
                          - file: a.wav
                            load_ohm: 150
                            load_tolerance_percent: 1
                            channel: 1
                          - file: b.wav
                            load_ohm: open
                            channel: 1
                        """);
    }

    @Test
    void inputCurveIsWrittenByItsFile() throws Exception {
        Files.writeString(
                folder.resolve("in.csv"), "frequency_hz,resistance_ohm,reactance_ohm\n20,1000,0\n20000,900,-10\n");
        InputImpedance curve = InputImpedance.ofCurve(
                new double[] {20, 20_000},
                new Complex[] {new Complex(1000), new Complex(900, -10)},
                new double[] {0.01, 0.01});
        Session bare = small();
        Session session =
                new Session(folder, bare.microphone(), curve, "in.csv", null, bare.takes(), null, null, null, null);
        assertThat(SessionWriter.text(session)).contains("curve: in.csv").doesNotContain("resistance_ohm");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> SessionWriter.text(new Session(folder, bare.microphone(), curve, bare.takes())))
                .withMessageContaining("save its curve in the session folder");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> SessionWriter.text(new Session(
                        folder, bare.microphone(), bare.input(), "in.csv", null, bare.takes(), null, null, null, null)))
                .withMessageContaining("check that its input is the curve in its file");
    }

    @Test
    void unfinishedSessionGrowsTakeByTake() throws Exception {
        Session empty = small().withTakes(List.of());
        SessionWriter.write(empty);
        Bench bench = new Bench(folder).audio("a.wav");
        Session one = bench.reader().readUnfinished(folder).withTake(new Take("a.wav", Load.ofOhms(150, 1)));
        SessionWriter.write(one);
        assertThat(bench.reader().readUnfinished(folder)).isEqualTo(one);
        assertThatThrownBy(bench::read).isInstanceOf(ManifestException.class);
    }

    @Test
    void whatCouldNotBeReadBackIsNotWritten() {
        assertThatIllegalArgumentException()
                .isThrownBy(() ->
                        SessionWriter.write(new Session(folder, microphone(" "), InputImpedance.unknown(), List.of())))
                .withMessageContaining("microphone.label is empty");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> SessionWriter.write(
                        small().withTakes(List.of(new Take("a.wav", Load.open(), 0, null, null, null)))))
                .withMessageContaining("takes[0].channel is 0");
        assertThat(folder).isEmptyDirectory();
    }

    @Test
    void nothingIsLeftBesideTheManifest() throws IOException {
        SessionWriter.write(small());
        SessionWriter.write(small());
        try (Stream<Path> files = Files.list(folder)) {
            assertThat(files).containsExactly(folder.resolve(Session.MANIFEST));
        }
    }

    @Test
    void failedWriteLeavesNothingBehind() throws IOException {
        Path taken = Files.createDirectories(folder.resolve(Session.MANIFEST).resolve("in the way"));
        assertThatThrownBy(() -> SessionWriter.write(small())).isInstanceOf(IOException.class);
        assertThat(taken).exists();
        try (Stream<Path> files = Files.list(folder)) {
            assertThat(files).hasSize(1);
        }
    }
}
