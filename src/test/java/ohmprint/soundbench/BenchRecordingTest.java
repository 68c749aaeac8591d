package ohmprint.soundbench;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import ohmprint.NeedsPackage;
import ohmprint.app.MeasureOutcome;
import ohmprint.app.MeasureRequest;
import ohmprint.app.MeasureSession;
import ohmprint.app.Progress;
import ohmprint.curve.BandStatus;
import ohmprint.curve.BandValue;
import ohmprint.curve.Route;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.stat.descriptive.rank.Percentile;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Isolated;

/**
 * From the loudspeaker to the curve: {@code record} plays and records through a real sound server with a simulated room,
 * microphone and load behind it, the load is switched between the takes, and the curve is compared with the circuit.
 */
@Isolated("a computer busy with other tests loses pieces of the sound")
@NeedsPackage({"pulseaudio", "pulseaudio-utils", "libasound2-plugins"})
class BenchRecordingTest {
    @TempDir
    Path dir;

    /** Answers the requests for loads until the end; returns the files of the takes. */
    private static List<String> serve(Program record, SimulatedBench bench, double[] volumes)
            throws IOException, InterruptedException {
        List<String> takes = new ArrayList<>();
        for (JsonNode event; (event = record.event()) != null; ) {
            switch (event.path("event").asText()) {
                case "fit" -> {
                    bench.volume(volumes[event.path("take").asInt() % volumes.length]);
                    bench.fit(event.path("load_ohm").asDouble(Double.POSITIVE_INFINITY));
                    record.send("");
                }
                case "kept" -> takes.add(event.path("file").asText());
                default -> {}
            }
        }
        return takes;
    }

    private Program record(SimulatedBench bench, String loads, String... more) throws IOException {
        String[] all = Stream.concat(
                        Stream.of(
                                "record",
                                "session",
                                "--yes",
                                "--json",
                                "--label",
                                "Bench coil 4",
                                "--rated",
                                "200",
                                "--input",
                                "3000",
                                "--input-tolerance",
                                "0.1",
                                "--input-pf",
                                "470",
                                "--tolerance",
                                "0.02",
                                "--seconds",
                                "2",
                                "--lead",
                                "0.7",
                                "--tail",
                                "0.4",
                                "--loads",
                                loads),
                        Stream.of(more))
                .toArray(String[]::new);
        return Program.ohmprint(bench.server().environment(), dir, all);
    }

    private MeasureOutcome measure() throws Exception {
        return MeasureSession.run(MeasureRequest.of(dir.resolve("session")), Progress.SILENT);
    }

    private static double[] errors(MeasureOutcome outcome, double fromHz, boolean phase) {
        return outcome.measurement().curve().values().stream()
                .filter(v -> v.frequencyHz() >= fromHz && v.frequencyHz() <= 18_000)
                .filter(v -> v.status() == BandStatus.MEASURED)
                .mapToDouble(v -> phase ? phaseError(v) : magnitudeError(v))
                .toArray();
    }

    private static double magnitudeError(BandValue v) {
        Complex truth = SimulatedBench.COIL.impedance(v.frequencyHz());
        return 100 * Math.abs(v.magnitudeOhm() / truth.abs() - 1);
    }

    private static double phaseError(BandValue v) {
        Complex truth = SimulatedBench.COIL.impedance(v.frequencyHz());
        return Math.abs(v.phaseDeg() - Math.toDegrees(truth.getArgument()));
    }

    private static double percentile(double[] values, double percent) {
        return new Percentile(percent).evaluate(values);
    }

    /** Limits: what the program promises for two loads and a sweep of known file, 30 Hz to 18 kHz. */
    @Test
    void twoLoadsWithTheStimulus() throws Exception {
        try (SimulatedBench bench = SimulatedBench.start(dir.resolve("server"), Double.POSITIVE_INFINITY);
                Program record = record(bench, "150,1500")) {
            List<String> takes = serve(record, bench, new double[] {1});
            assertThat(record.ended()).as(record.errors()).isZero();
            assertThat(takes).containsExactly("take-1.wav", "take-2.wav", "take-3.wav");
            JsonNode level = record.events().stream()
                    .filter(e -> e.path("event").asText().equals("level"))
                    .findFirst()
                    .orElseThrow();
            assertThat(level.path("peak_dbfs").asDouble()).isBetween(-9.0, -4.0);
            MeasureOutcome outcome = measure();
            assertThat(outcome.measurement().route()).isEqualTo(Route.STIMULUS);
            double[] magnitude = errors(outcome, 30, false);
            assertThat(magnitude).hasSizeGreaterThan(105);
            assertThat(percentile(magnitude, 50)).isLessThan(0.1);
            assertThat(percentile(magnitude, 95)).isLessThan(0.8);
            assertThat(percentile(errors(outcome, 30, true), 95)).isLessThan(0.6);
            double predicted = level.path("predicted_median_u95_percent").asDouble();
            double stated = percentile(
                    outcome.measurement().curve().values().stream()
                            .filter(BandValue::isMeasured)
                            .mapToDouble(v -> 100 * v.magnitudeU95Ohm() / v.magnitudeOhm())
                            .toArray(),
                    50);
            assertThat(predicted / stated)
                    .as("predicted %s %%, stated %s %%", predicted, stated)
                    .isBetween(0.5, 2.0);
        }
    }

    /** Limits: what the program promises for a sweep with a reference channel and 0.15 dB of drift, 50 Hz to 18 kHz. */
    @Test
    void threeLoadsWithAReferenceChannelAndADriftingSource() throws Exception {
        try (SimulatedBench bench = SimulatedBench.start(dir.resolve("server"), Double.POSITIVE_INFINITY);
                Program record = record(bench, "150,470,1500", "--reference", "2", "--no-level-check")) {
            List<String> takes = serve(record, bench, new double[] {1, 1, 1.012, 0.995, 1.017});
            assertThat(record.ended()).as(record.errors()).isZero();
            assertThat(takes).hasSize(4);
            MeasureOutcome outcome = measure();
            assertThat(outcome.measurement().route()).isEqualTo(Route.REFERENCE);
            double[] magnitude = errors(outcome, 50, false);
            assertThat(magnitude).hasSizeGreaterThan(95);
            assertThat(percentile(magnitude, 50)).isLessThan(0.15);
            assertThat(percentile(magnitude, 95)).isLessThan(0.8);
        }
    }

    @Test
    void aMuteMicrophoneAndADeadServerEndInWordsAndWhatIsRecordedStays() throws Exception {
        try (SimulatedBench bench = SimulatedBench.start(dir.resolve("server"), 1500)) {
            Path session = dir.resolve("session");
            try (Program record = record(bench, "150,1500")) {
                record.event("fit");
                bench.gain(0);
                record.send("");
                assertThat(record.event("level").path("acceptable").asBoolean()).isFalse();
                assertThat(record.ended()).isEqualTo(3);
                assertThat(record.errors()).contains("is silent; check the channel and the cable");
                bench.gain(1);
            }
            try (Program killed = again(bench)) {
                killed.event("fit");
                bench.fit(150);
                killed.send("");
                Path part = session.resolve("take-1.unfinished.wav");
                waitFor(part, 150_000);
                killed.kill();
                assertThat(Files.size(part))
                        .as("what was recorded is on the disk")
                        .isGreaterThan(150_000);
            }
            try (Program killed = again(bench)) {
                assertThat(killed.event("note").path("message").asText())
                        .contains("an unfinished take of")
                        .contains("take-1.unusable-1.wav");
                keepOne(killed);
                killed.event("fit");
                killed.kill();
            }
            try (Program lost = again(bench)) {
                assertThat(lost.event("plan").path("remaining_ohm")).hasSize(2);
                lost.event("fit");
                lost.send("");
                waitFor(session.resolve("take-2.unfinished.wav"), 150_000);
                bench.server().kill();
                long begin = System.nanoTime();
                assertThat(lost.event("note").path("message").asText()).contains("take-2.unusable-1.wav");
                assertThat((System.nanoTime() - begin) / 1e9)
                        .as("seconds until it is noticed")
                        .isLessThan(1.5);
                assertThat(lost.ended()).isEqualTo(2);
                assertThat(lost.errors()).contains("it was unplugged or its sound server ended; connect it again");
            }
            assertThat(Files.readString(session.resolve("session.yaml")))
                    .contains("take-1.wav")
                    .doesNotContain("take-2");
        }
    }

    /** Fits what is fitted already until a take is kept: a busy computer may spoil one. */
    private static void keepOne(Program record) throws IOException {
        for (JsonNode event; (event = record.event()) != null; ) {
            if (event.path("event").asText().equals("fit")) {
                record.send("");
            } else if (event.path("event").asText().equals("kept")) {
                return;
            }
        }
        throw new IOException("no take was kept; errors: " + record.errors());
    }

    /** Goes on with the session. */
    private Program again(SimulatedBench bench) throws IOException {
        return Program.ohmprint(
                bench.server().environment(), dir, "record", "session", "--yes", "--json", "--no-level-check");
    }

    private static void waitFor(Path file, long bytes) throws Exception {
        long end = System.nanoTime() + 30_000_000_000L;
        while (!Files.exists(file) || Files.size(file) < bytes) {
            assertThat(System.nanoTime()).as("%s does not grow", file).isLessThan(end);
            Thread.sleep(10);
        }
    }

    @Test
    void aFullDiskEndsTheTakeAndLeavesTheManifest() throws Exception {
        Path small = Files.createDirectory(dir.resolve("small"));
        org.junit.jupiter.api.Assumptions.assumeTrue(
                new ProcessBuilder("mount", "-t", "tmpfs", "-o", "size=3m", "tmpfs", small.toString())
                                .start()
                                .waitFor()
                        == 0,
                "may not mount");
        try (SimulatedBench bench = SimulatedBench.start(dir.resolve("server"), 150)) {
            try (Program record = Program.ohmprint(
                    bench.server().environment(),
                    dir,
                    "record",
                    "small/session",
                    "--yes",
                    "--json",
                    "--no-level-check",
                    "--label",
                    "x",
                    "--input",
                    "3000",
                    "--loads",
                    "150,1500",
                    "--seconds",
                    "2")) {
                record.event("fit");
                record.send("");
                waitFor(small.resolve("session/take-1.unfinished.wav"), 100_000);
                byte[] filler = new byte[1 << 16];
                try (var out = Files.newOutputStream(small.resolve("filler"))) {
                    while (true) {
                        out.write(filler);
                    }
                } catch (IOException full) {
                    assertThat(full).hasMessageContaining("No space left");
                }
                assertThat(record.ended()).isEqualTo(2);
                assertThat(record.errors()).contains("No space left on device");
                assertThat(small.resolve("session/take-1.unusable-1.wav")).exists();
                assertThat(Files.readString(small.resolve("session/session.yaml")))
                        .contains("takes: []");
            }
            try (Program record = Program.ohmprint(
                    bench.server().environment(), dir, "record", "small/session", "--yes", "--no-level-check")) {
                record.send("");
                assertThat(record.ended()).isEqualTo(2);
                assertThat(record.errors()).contains("kB left and a take needs");
            }
        } finally {
            new ProcessBuilder("umount", small.toString()).start().waitFor();
        }
    }
}
