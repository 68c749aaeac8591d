package ohmprint.app.match;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import ohmprint.app.match.LoadPrediction.Answer;
import ohmprint.app.match.MatchRequest.Electronics;
import ohmprint.impedance.PredictedValue;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Level and gain of a microphone on an input, and of a booster between the two. */
@Tag("slow")
class MatchLevelTest extends CurveToMatch {
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

    /**
     * A sensitivity anywhere within ± 3 dB: 95 % of 200 000 draws of it and of the loss's normal error lie within what is stated
     * (JCGM 101:2008, 6.4.2 and 7.7), and none alone is beyond the tolerance.
     */
    @Test
    void aToleranceOfTheSensitivityWidensNoFurtherThanItReaches() throws Exception {
        MatchRequest open = MatchRequest.of(stored(SampleMeasurements.movingCoil()), 1e8);
        assertThat(level(open, 3).u95()).isCloseTo(2.85, within(0.005));
        MatchRequest loaded = MatchRequest.of(stored(SampleMeasurements.movingCoil()), 30);
        double normal = level(loaded, 0).u95() / 1.959964;
        for (double a : new double[] {0.5 * normal, Math.sqrt(3) * normal, 5 * normal}) {
            SplittableRandom random = new SplittableRandom(12);
            double[] off = new double[200_000];
            Arrays.setAll(off, i -> Math.abs(normal * random.nextGaussian() + a * (2 * random.nextDouble() - 1)));
            Arrays.sort(off);
            assertThat(level(loaded, a).u95() / off[190_000]).as("± %s dB", a).isCloseTo(1, within(0.01));
        }
    }

    private static PredictedValue level(MatchRequest request, double toleranceDb) throws Exception {
        MatchRequest.Sound sound = new MatchRequest.Sound(1, toleranceDb, 94, 4);
        return MatchCurve.run(with(request, sound, new Electronics(60.0, null, null, null, null), null))
                .inputs()
                .get(0)
                .level()
                .levelDbu();
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
}
