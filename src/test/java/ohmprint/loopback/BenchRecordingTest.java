package ohmprint.loopback;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import ohmprint.NeedsPackage;
import ohmprint.app.Progress;
import ohmprint.app.measure.MeasureOutcome;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.measure.MeasureSession;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.Route;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.stat.descriptive.rank.Percentile;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Isolated;

/**
 * From the loudspeaker to the curve: {@code record} plays and records through a real sound server with a simulated
 * room, microphone and load behind it, the load is switched between the takes, and the curve is compared with the
 * circuit.
 */
@org.junit.jupiter.api.Tag("sound")
@Isolated("a computer busy with other tests loses pieces of the sound")
@NeedsPackage({"pulseaudio", "pulseaudio-utils", "libasound2-plugins"})
@Tag("sound")
class BenchRecordingTest extends RecordingProgram {
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
}
