package ohmprint.study;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.MeasureOutcome;
import ohmprint.app.measure.MeasureRequest;
import ohmprint.app.measure.MeasureSession;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.Usability;
import org.apache.commons.math3.complex.Complex;
import org.jspecify.annotations.Nullable;

/** Makes a session of audio files by the script of the fixtures, measures it as a user would, and compares. */
final class WholeSession {
    private static final Path SCRIPT = Path.of("fixtures/make/unseen.py");
    /** Seeds far from those that the program was tried on while it was written. */
    private static final int FIRST_SEED = 7000;

    private static final double FROM_HZ = 30;
    private static final double TO_HZ = 18_000;
    private static final double SAME_FREQUENCY = 2e-4;
    private static final Set<FindingCode> ACCUSING = Set.of(
            FindingCode.LOAD_MISMATCH,
            FindingCode.TIMING,
            FindingCode.CLIPPED,
            FindingCode.GAIN_RIDING,
            FindingCode.NONLINEAR,
            FindingCode.MOVED,
            FindingCode.DISTURBED);
    /** Bands of a resonance lie within a third of an octave of it. */
    private static final double NEAR = Math.cbrt(2);

    private WholeSession() {}

    /**
     * What came of one session.
     *
     * @param errorPercent relative errors of |Z|, percent, of the bands with a value
     * @param statedPercent stated 95 % uncertainties of |Z|, percent of the truth
     * @param inMagnitude bands whose interval of |Z| holds the truth
     * @param inPhase bands whose interval of the phase holds the truth
     * @param phases bands with a phase
     * @param atPeak whether the interval of the band next to a resonance holds the truth; null where there is none
     * @param told whether the faulty take was named; for a sound session, whether any take was accused
     * @param usability the verdict
     */
    record Score(
            double[] errorPercent,
            double[] statedPercent,
            int inMagnitude,
            int inPhase,
            int phases,
            @Nullable Boolean atPeak,
            boolean told,
            Usability usability) {}

    /** Runs session {@code number} of a kind in a folder of its own below {@code work}, which is deleted afterwards. */
    static Score run(WholeKind kind, int number, Path work)
            throws IOException, BadInputException, InterruptedException {
        Path folder = work.resolve(kind.word() + "-" + number);
        try {
            make(kind, FIRST_SEED + number, folder);
            MeasureOutcome outcome = MeasureSession.run(MeasureRequest.of(folder), (what, share) -> {});
            JsonNode facts =
                    new ObjectMapper().readTree(folder.resolve("facts.json").toFile());
            JsonNode faulty = facts.path("faulty_take");
            boolean told = outcome.measurement().findings().stream()
                    .anyMatch(f -> ACCUSING.contains(f.code())
                            && (faulty.isMissingNode() || faulty.asText().equals(f.take())));
            return score(outcome, truth(folder), facts.path("resonance_hz").asDouble(Double.NaN), told);
        } finally {
            delete(folder);
        }
    }

    private static void make(WholeKind kind, int seed, Path folder) throws IOException, InterruptedException {
        Process python = new ProcessBuilder(
                        "/usr/bin/python3",
                        SCRIPT.toString(),
                        "--seed",
                        Integer.toString(seed),
                        "--kind",
                        kind.word(),
                        "--out",
                        folder.toString())
                .redirectErrorStream(true)
                .start();
        String said = new String(python.getInputStream().readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);
        if (python.waitFor() != 0) {
            throw new IOException(SCRIPT + " failed; it needs python3-numpy and python3-scipy: " + said);
        }
    }

    private static List<double[]> truth(Path folder) throws IOException {
        List<double[]> rows = new ArrayList<>();
        for (String name : List.of("truth.csv", "truth-thirds.csv")) {
            for (String line :
                    Files.readAllLines(folder.resolve(name)).stream().skip(1).toList()) {
                rows.add(Arrays.stream(line.split(","))
                        .mapToDouble(Double::parseDouble)
                        .toArray());
            }
        }
        return rows;
    }

    private static Score score(MeasureOutcome outcome, List<double[]> truth, double resonanceHz, boolean told) {
        List<BandValue> values = outcome.measurement().curve().values().stream()
                .filter(v -> v.isMeasured() && v.frequencyHz() >= FROM_HZ && v.frequencyHz() <= TO_HZ)
                .filter(v -> Double.isNaN(resonanceHz) || away(v.frequencyHz(), resonanceHz) < Math.log(NEAR))
                .toList();
        double[] error = new double[values.size()];
        double[] stated = new double[values.size()];
        int inMagnitude = 0;
        int inPhase = 0;
        int phases = 0;
        Boolean atPeak = null;
        double nearest = Double.POSITIVE_INFINITY;
        for (int b = 0; b < error.length; b++) {
            BandValue v = values.get(b);
            Complex z = truth.stream()
                    .filter(r -> Math.abs(r[0] / v.frequencyHz() - 1) < SAME_FREQUENCY)
                    .findFirst()
                    .map(r -> new Complex(r[1], r[2]))
                    .orElseThrow(() -> new IllegalStateException("no truth at " + v.frequencyHz() + " Hz"));
            error[b] = 100 * (v.magnitudeOhm() / z.abs() - 1);
            stated[b] = 100 * v.magnitudeU95Ohm() / z.abs();
            inMagnitude += Math.abs(error[b]) <= stated[b] ? 1 : 0;
            if (away(v.frequencyHz(), resonanceHz) < nearest) {
                nearest = away(v.frequencyHz(), resonanceHz);
                atPeak = Math.abs(error[b]) <= stated[b];
            }
            if (!Double.isNaN(v.phaseRad())) {
                phases++;
                double turn = Math.IEEEremainder(v.phaseRad() - z.getArgument(), 2 * Math.PI);
                inPhase += Math.abs(turn) <= v.phaseU95Rad() ? 1 : 0;
            }
        }
        return new Score(
                error,
                stated,
                inMagnitude,
                inPhase,
                phases,
                atPeak,
                told,
                outcome.measurement().usability());
    }

    /** Distance in ln f; NaN without a resonance. */
    private static double away(double hz, double resonanceHz) {
        return Math.abs(Math.log(hz / resonanceHz));
    }

    /** Deletes a folder with what is in it. */
    static void delete(Path folder) throws IOException {
        if (Files.exists(folder)) {
            try (Stream<Path> files = Files.walk(folder)) {
                for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
                    Files.delete(file);
                }
            }
        }
    }
}
