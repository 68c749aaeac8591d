package ohmprint.app.match;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import ohmprint.app.BadInputException;
import ohmprint.app.MeasureRequest;
import ohmprint.app.MeasureSession;
import ohmprint.app.Progress;
import ohmprint.curve.BandValue;
import ohmprint.curve.FindingCode;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Measurement;
import ohmprint.curve.Microphone;
import ohmprint.curve.PredictedValue;
import ohmprint.curve.SampleMeasurements;
import ohmprint.exchange.CurveJson;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class MatchCurveTest {
    private static final Path SESSION = Path.of("fixtures/sessions/coil-two-loads");

    @TempDir
    static Path measured;

    @TempDir
    Path here;

    @BeforeAll
    static void measure() throws Exception {
        Path result = measured.resolve("result");
        MeasureSession.run(new MeasureRequest(SESSION, result, null, null, 20, 20_000, false), Progress.SILENT);
    }

    private String stored(Measurement measurement) throws IOException {
        Path file = here.resolve("curve.json");
        Files.writeString(file, CurveJson.write(measurement));
        return file.toString();
    }

    private static MatchRequest with(MatchRequest r, MatchRequest.Sound sound, Electronics preamplifier, Path out) {
        return new MatchRequest(
                r.curve(),
                r.range(),
                r.loads(),
                r.inputCurves(),
                r.inputs(),
                r.line(),
                sound,
                preamplifier,
                r.booster(),
                r.celsius(),
                out,
                r.dark());
    }

    /**
     * From takes to losses: a session whose takes ngspice divided, measured, against the AC analysis of its circuit by
     * ngspice 39 ({@code fixtures/make/loading.py}).
     */
    @Test
    void lossesFromTakesAgreeWithTheCircuitSimulator() throws Exception {
        MatchOutcome outcome = MatchCurve.run(MatchRequest.of(measured.toString(), 150, 600, 1500));
        List<double[]> truth = rows(SESSION.resolve("truth.csv"));
        List<double[]> losses = rows(Path.of("fixtures/loading/session-coil-two-loads.csv"));
        int within = 0;
        for (int i = 0; i < outcome.measurement().curve().values().size(); i++) {
            BandValue v = outcome.measurement().curve().values().get(i);
            int row = nearest(truth, v.frequencyHz());
            double error = Math.hypot(v.resistanceOhm() - truth.get(row)[1], v.reactanceOhm() - truth.get(row)[2]);
            if (error <= 0.001 * Math.hypot(truth.get(row)[1], truth.get(row)[2])) {
                within++;
                for (int load = 0; load < 3; load++) {
                    assertThat(outcome.inputs().get(load).losses().get(i).value())
                            .as("%s at %s Hz", outcome.inputs().get(load).name(), v.frequencyHz())
                            .isCloseTo(losses.get(row)[load + 1], within(0.02));
                }
            }
        }
        assertThat(within).isGreaterThan(60);
    }

    /** The uncertainty that takes leave covers the error of the losses and of the changes they imply. */
    @Test
    void statedUncertaintiesCoverTheErrorsOfASession() throws Exception {
        LoadPrediction p = MatchCurve.run(MatchRequest.of(measured.toString(), 600))
                .inputs()
                .get(0);
        List<double[]> losses = rows(Path.of("fixtures/loading/session-coil-two-loads.csv"));
        double reference = Math.sqrt(losses.get(nearest(losses, 971.6))[2] * losses.get(nearest(losses, 1029.2))[2]);
        int covered = 0;
        int changes = 0;
        for (int i = 0; i < p.losses().size(); i++) {
            double wanted = losses.get(nearest(losses, p.losses().get(i).hz()))[2];
            covered += Math.abs(p.losses().get(i).value() - wanted)
                            <= p.losses().get(i).u95()
                    ? 1
                    : 0;
            PredictedValue change = p.changes().get(i);
            changes += Math.abs(change.value() - (reference - wanted)) <= change.u95() + 1e-4 ? 1 : 0;
        }
        assertThat(covered / (double) p.losses().size()).isGreaterThan(0.9);
        assertThat(changes / (double) p.losses().size()).isGreaterThan(0.9);
    }

    private static int nearest(List<double[]> rows, double hz) {
        int best = 0;
        for (int i = 0; i < rows.size(); i++) {
            best = Math.abs(rows.get(i)[0] - hz) < Math.abs(rows.get(best)[0] - hz) ? i : best;
        }
        return best;
    }

    private static List<double[]> rows(Path file) throws IOException {
        return Files.readAllLines(file).stream()
                .skip(1)
                .map(line -> Arrays.stream(line.split(","))
                        .mapToDouble(Double::parseDouble)
                        .toArray())
                .toList();
    }

    /** 1 mV/Pa at 94 dB SPL with 60 dB of gain is 1 V, +2.2 dBu (common practice, no source), less the loss. */
    @Test
    void levelGainAndWhatIsMissing() throws Exception {
        MatchRequest request = MatchRequest.of(stored(SampleMeasurements.movingCoil()), 1e8, 600);
        MatchRequest.Sound sound = new MatchRequest.Sound(1, 0, 93.9794, 4);
        Electronics gain = new Electronics(60.0, null, null, null, null);
        List<LoadPrediction> inputs =
                MatchCurve.run(with(request, sound, gain, null)).inputs();
        LevelPrediction open = inputs.get(0).level();
        assertThat(open.levelDbu().value() + 60).isCloseTo(2.2185, within(0.0005));
        assertThat(open.millivolt().value()).isCloseTo(1, within(1e-4));
        assertThat(open.spareGainDb().value()).isCloseTo(2.2185 - 4, within(0.0005));
        assertThat(open.enough()).isEqualTo(Answer.NO);
        LevelPrediction loaded = inputs.get(1).level();
        double loss = inputs.get(1).lossAtReference().value();
        assertThat(loaded.levelDbu().value()).isCloseTo(open.levelDbu().value() - loss, within(1e-4));
        assertThat(loaded.neededGainDb().value())
                .isCloseTo(4 - loaded.levelDbu().value(), within(1e-9));
        assertThat(loaded.totalDbu().isValue()).isFalse();
        // Some 150 Ω over the 17.8 kHz that the curve covers.
        assertThat(loaded.thermalDbu().value()).isBetween(-131.5, -131.2);
    }

    @Test
    void aToleranceOfTheSensitivityLeavesAnAnswerOpen() throws Exception {
        MatchRequest request = MatchRequest.of(stored(SampleMeasurements.movingCoil()), 1e8);
        Electronics gain = new Electronics(62.0, null, null, null, null);
        Answer exact = MatchCurve.run(with(request, new MatchRequest.Sound(1, 0, 94, 4), gain, null))
                .inputs()
                .get(0)
                .level()
                .enough();
        Answer vague = MatchCurve.run(with(request, new MatchRequest.Sound(1, 2, 94, 4), gain, null))
                .inputs()
                .get(0)
                .level()
                .enough();
        assertThat(exact).isEqualTo(Answer.YES);
        assertThat(vague).isEqualTo(Answer.UNDECIDED);
    }

    @Test
    void aBoosterIsWhatTheMicrophoneSees() throws Exception {
        Path file = here.resolve("inputs.yaml");
        Files.writeString(file, """
                version: 1
                inputs:
                  - {name: Desk, resistance_ohm: 1000, resistance_tolerance_percent: 0, gain_db: 40, voltage_noise_nv: 10}
                boosters:
                  - {name: Booster, resistance_ohm: 20000, gain_db: 20, output_ohm: 1000, voltage_noise_nv: 1}
                """);
        MatchRequest r = MatchRequest.of(stored(SampleMeasurements.movingCoil()));
        MatchOutcome outcome = MatchCurve.run(new MatchRequest(
                r.curve(),
                r.range(),
                r.loads(),
                r.inputCurves(),
                file,
                r.line(),
                new MatchRequest.Sound(1, 0, 94, 4),
                Electronics.UNKNOWN,
                null,
                20,
                null,
                false));
        assertThat(outcome.inputs()).extracting(LoadPrediction::name).containsExactly("Desk", "Booster");
        LoadPrediction chain = outcome.chains().get(0);
        assertThat(chain.name()).isEqualTo("Booster → Desk");
        assertThat(chain.worstLoss()).isEqualTo(outcome.inputs().get(1).worstLoss());
        // 20 dB less 6.02 dB, as 1000 Ω drive 1000 Ω, and 40 dB.
        assertThat(chain.level().availableGainDb()).isCloseTo(60 - 20 * Math.log10(2), within(1e-9));
        // e² = 1² + 10²/10^1.398 = 5 (nV/√Hz)²: the booster's noise with the input's behind its gain of five.
        double wanted = new Electronics(null, null, null, Math.sqrt(5), null)
                .noise(293.15)
                .voltPerRootHz();
        Electronics both = new Electronics(null, null, null, wanted * 1e9, null);
        MatchRequest alone = MatchRequest.of(r.curve(), 20_000);
        double total = MatchCurve.run(with(alone, new MatchRequest.Sound(1, 0, 94, 4), both, null))
                .inputs()
                .get(0)
                .level()
                .totalDbu()
                .value();
        assertThat(chain.level().totalDbu().value()).isCloseTo(total, within(1e-6));
    }

    @Test
    void theFolderHoldsTablesAndPicturesAndIsReplacedAsAWhole() throws Exception {
        Path out = here.resolve("match");
        MatchRequest request = with(
                MatchRequest.of(stored(SampleMeasurements.ribbonWithGaps()), 1500, 3000),
                null,
                Electronics.UNKNOWN,
                out);
        MatchOutcome outcome = MatchCurve.run(request);
        assertThat(outcome.files())
                .containsExactly(
                        "inputs.csv",
                        "bands.csv",
                        "inputs.svg",
                        "inputs.png",
                        "variable-load.svg",
                        "variable-load.png");
        List<String> rows = Files.readAllLines(out.resolve("inputs.csv"));
        assertThat(rows).hasSize(1 + 2 + MatchCurve.FAMILY_OHM.size());
        Set<Integer> columns =
                rows.stream().map(row -> row.split(",", -1).length).collect(Collectors.toSet());
        assertThat(columns).hasSize(1);
        MatchCurve.run(with(MatchRequest.of(request.curve()), null, Electronics.UNKNOWN, out));
        try (var files = Files.list(out)) {
            assertThat(files).hasSize(4);
        }
        Files.writeString(out.resolve("notes.txt"), "mine");
        assertThatThrownBy(() -> MatchCurve.run(request))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("holds notes.txt");
        assertThat(out.resolve("notes.txt")).hasContent("mine");
    }

    @Test
    void sourceInParallelWithAnUnknownInputIsSaidAndHasNoLevel() throws Exception {
        Measurement gaps = SampleMeasurements.ribbonWithGaps();
        assertThat(gaps.curve().parallelWithInput()).isTrue();
        MatchRequest request = MatchRequest.of(stored(gaps), 1500);
        MatchOutcome outcome = MatchCurve.run(request);
        assertThat(outcome.findings()).singleElement().satisfies(f -> {
            assertThat(f.code()).isEqualTo(FindingCode.INPUT_UNKNOWN);
            assertThat(f.message()).contains("loses more");
        });
        assertThat(outcome.notes()).anyMatch(n -> n.contains("6 of 107 bands were rejected"));
        assertThatThrownBy(() ->
                        MatchCurve.run(with(request, new MatchRequest.Sound(1, 0, 94, 4), Electronics.UNKNOWN, null)))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("level and noise need the source impedance alone");
    }

    @Test
    void loadsBelowWhatTheMakerAllowsAreTold() throws Exception {
        Measurement m = SampleMeasurements.movingCoil();
        Microphone rated = new Microphone("Bench dynamic 2", null, null, null, null, 200.0, 1000.0, null);
        Measurement with = new Measurement(
                rated, m.curve(), m.route(), m.routeReason(), m.usability(), m.findings(), m.provenance());
        MatchOutcome outcome = MatchCurve.run(MatchRequest.of(stored(with), 600, 1500));
        assertThat(outcome.findings()).singleElement().satisfies(f -> {
            assertThat(f.code()).isEqualTo(FindingCode.RATED_LOAD);
            assertThat(f.message()).startsWith("600 Ω: a load of 600 Ω is below the 1000 Ω");
        });
    }

    @Test
    void aMeasuredInputHasToCoverTheRange() throws Exception {
        Path input = here.resolve("input.csv");
        Files.writeString(input, """
                frequency_hz,resistance_ohm,reactance_ohm
                100,2400,0
                5000,2300,-300
                """);
        MatchRequest r = MatchRequest.of(stored(SampleMeasurements.movingCoil()));
        MatchRequest all = new MatchRequest(
                r.curve(),
                r.range(),
                r.loads(),
                List.of(input),
                null,
                r.line(),
                null,
                Electronics.UNKNOWN,
                null,
                20,
                null,
                false);
        assertThatThrownBy(() -> MatchCurve.run(all))
                .isInstanceOf(BadInputException.class)
                .hasMessageContaining("input.csv: the input curve covers 100 Hz to 5000 Hz");
        MatchRequest part = new MatchRequest(
                r.curve(),
                new MatchRequest.Range(100, 5000),
                r.loads(),
                List.of(input),
                null,
                r.line(),
                null,
                Electronics.UNKNOWN,
                null,
                20,
                null,
                false);
        LoadPrediction p = MatchCurve.run(part).inputs().get(0);
        assertThat(p.worstLoss().value()).isCloseTo(20 * Math.log10(1 + 300 / 2400.0), within(0.02));
        // 1 % of the input's impedance is assumed where its file says nothing.
        assertThat(p.worstLoss().u95()).isGreaterThan(0.01);
    }

    @Test
    void outsideTheMeasuredBandsNothingIsStated() throws Exception {
        ImpedanceCurve high = SampleMeasurements.movingCoilCurve(12, 2000, 18_000);
        Measurement m = SampleMeasurements.movingCoil();
        Measurement part = new Measurement(
                m.microphone(), high, m.route(), m.routeReason(), m.usability(), m.findings(), m.provenance());
        MatchRequest request = with(
                MatchRequest.of(stored(part), 1500),
                new MatchRequest.Sound(1, 0, 94, 4),
                new Electronics(60.0, -127.0, null, null, null),
                null);
        MatchOutcome outcome = MatchCurve.run(request);
        LoadPrediction p = outcome.inputs().get(0);
        assertThat(p.losses()).hasSize(high.values().size());
        assertThat(p.lossAtReference().isValue()).isFalse();
        assertThat(p.level().levelDbu().isValue()).isFalse();
        assertThat(p.level().enough()).isEqualTo(Answer.UNKNOWN);
        assertThat(p.level().equivalentADb().isValue()).isFalse();
        assertThat(p.level().coveredHz()).isBetween(15_000.0, 16_500.0);
        assertThat(outcome.notes())
                .anyMatch(n -> n.contains("2.05 kHz to 17.3 kHz") && n.contains("nothing is claimed outside"))
                .anyMatch(n -> n.contains("does not hold 1 kHz"));
    }
}
