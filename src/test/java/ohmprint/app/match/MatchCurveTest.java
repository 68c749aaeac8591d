package ohmprint.app.match;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import ohmprint.app.BadInputException;
import ohmprint.app.match.LoadPrediction.Answer;
import ohmprint.app.match.MatchRequest.Electronics;
import ohmprint.impedance.FindingCode;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;
import ohmprint.impedance.Microphone;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** What a match writes, and what it says of loads, ranges and bands that it cannot answer for. */
@Tag("slow")
class MatchCurveTest extends CurveToMatch {
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
