package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Locale;
import ohmprint.conformity.Limits.Side;
import ohmprint.conformity.Specification.AppliesTo;
import ohmprint.conformity.Specification.RatedImpedance;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Microphone;
import ohmprint.uncertainty.CoverageFactor;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Verdicts on curves whose answer is plain, and the guard band that they rest on. */
class DecisionTest extends DecidedCurves {
    /** u = 1 % of the value, so U = 1.96 %; limits 240 and 360 Ω. One check: the guard band to both sides is U. */
    @ParameterizedTest
    @CsvSource({
        "300, within",
        "244.9, within",
        "244.7, undecided",
        "240, undecided",
        "235.5, undecided",
        "235.3, outside",
        "100, outside",
        "353.0, within",
        "353.2, undecided",
        "367.1, undecided",
        "367.4, outside"
    })
    void theGuardBandIsTheExpandedUncertainty(double ohm, String answer) {
        Verdict verdict = decide(Curves.rated(300, 20), Curves.curve(hz -> ohm, 1));
        assertThat(verdict.conformity().word()).isEqualTo(answer);
        BandCheck check = only(verdict).checks().get(0);
        assertThat(check.side()).isEqualTo(ohm < 300.1 ? Side.LOW : Side.HIGH);
        assertThat(check.guardOhm()).isCloseTo(check.u95Ohm(), within(1e-9));
        double sign = check.side() == Side.LOW ? 240 - ohm : ohm - 360;
        assertThat(check.beyondOhm()).isCloseTo(sign, within(1e-6));
    }

    @Test
    void oneBandOfManyIsEnoughToBeOutside() {
        ImpedanceCurve curve = Curves.with(
                Curves.curve(hz -> 300, 1), 1000, 1050, hz -> Curves.value(hz, 150, 1.5, CoverageFactor.NORMAL));
        RequirementVerdict mask = only(decide(Curves.mask(MASK), curve));
        assertThat(mask.conformity()).isEqualTo(Conformity.OUTSIDE);
        assertThat(mask.checks()).hasSize(68);
        assertThat(mask.checks().stream().filter(c -> c.conformity() == Conformity.OUTSIDE))
                .singleElement()
                .satisfies(c -> {
                    assertThat(c.hz()).isCloseTo(1029.2, within(0.1));
                    assertThat(c.beyondOhm()).isCloseTo(50, within(1e-9));
                    assertThat(c.beyondPercent()).isCloseTo(25, within(1e-9));
                    assertThat(c.probability()).isLessThan(1e-9);
                });
        assertThat(mask.findings()).singleElement().asString().contains("at 1.03 kHz", "150.0 ± 2.9 Ω", "50 Ω (25 %)");
    }

    @Test
    void manyBandsNeedMoreToBeOutside() {
        // 2.5 u below the limit: outside for one check (1.96 u), chance for 68 of them (3.38 u).
        Verdict rated = decide(Curves.rated(250, 20), Curves.curve(hz -> 200 / 1.025, 1));
        Verdict mask = decide(Curves.mask(MASK), Curves.curve(hz -> 200 / 1.025, 1));
        assertThat(rated.conformity()).isEqualTo(Conformity.OUTSIDE);
        assertThat(mask.conformity()).isEqualTo(Conformity.UNDECIDED);
        double widened = only(mask).checks().get(0).guardOhm()
                / only(mask).checks().get(0).u95Ohm();
        // Normal quantile of 0.025/68 by Python's statistics.NormalDist.
        assertThat(widened * 1.959964).isCloseTo(3.376069, within(1e-4));
    }

    @Test
    void aSecondRequirementTakesItsShareOfTheRate() {
        Specification both = new Specification(
                "both", null, AppliesTo.ALL, new RatedImpedance(300, 20, 1000), List.of(MASK), null, null);
        Verdict verdict = decide(both, Curves.curve(hz -> 300, 1));
        assertThat(verdict.conformity()).isEqualTo(Conformity.WITHIN);
        BandCheck rated = verdict.requirements().get(0).checks().get(0);
        // Normal quantile of 0.0125: 2.2414 (from memory).
        assertThat(rated.guardOhm() / rated.u95Ohm() * 1.95996).isCloseTo(2.2414, within(1e-3));
    }

    @Test
    void fewDegreesOfFreedomWidenTheGuardBandFurther() {
        ImpedanceCurve normal = Curves.curve(hz -> 300, 1);
        ImpedanceCurve few = Curves.with(normal, 0, 30_000, hz -> Curves.value(hz, 300, 3, 2.7764));
        double wide = only(decide(Curves.mask(MASK), few)).checks().get(0).guardOhm();
        double usual = only(decide(Curves.mask(MASK), normal)).checks().get(0).guardOhm();
        // Quantiles of 0.025/68: of t for ν = 4 by its tail 1/2 − x/2·(1 + (1 − x²)/2), x = t/√(4 + t²), and the
        // normal one.
        assertThat(wide / 3).isCloseTo(9.3278, within(0.01));
        assertThat(usual / 3).isCloseTo(3.376069, within(1e-4));
    }

    @Test
    void anotherMicrophoneIsNoted() {
        AppliesTo other = new AppliesTo("HOLLOW ELM audio", "HE-3", "ribbon");
        Microphone microphone = Curves.ribbon(Curves.curve(hz -> 1, 1)).microphone();
        assertThat(other.differences(microphone)).containsExactly("model HE-3, not HE-2");
        assertThat(AppliesTo.ALL.differences(microphone)).isEmpty();
    }

    @Test
    void anUncertainReferenceWidensTheGuardBand() {
        List<ReferenceCurve.Point> points = List.of(
                new ReferenceCurve.Point(20, 300, 240, 360, 3), new ReferenceCurve.Point(20_000, 300, 240, 360, 3));
        Specification specification = new Specification(
                "r", null, AppliesTo.ALL, null, List.of(), null, new ReferenceCurve(points, 100, 10_000, null));
        BandCheck check =
                only(decide(specification, Curves.curve(hz -> 300, 2))).checks().get(0);
        // U of the curve 1.96·6 Ω = 11.76 Ω, of the reference 3 % of 300 Ω = 9 Ω: together 14.81 Ω.
        assertThat(check.u95Ohm()).isCloseTo(14.81, within(0.01));
    }

    @Test
    void wordsDoNotDependOnTheLocale() {
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
            assertThat(only(decide(Curves.rated(300, 20), Curves.curve(hz -> 100, 1)))
                            .findings())
                    .containsExactly("too low at 1 kHz: 100.0 ± 2.0 Ω against 240 to 360 Ω, 140 Ω (58 %) below");
        } finally {
            Locale.setDefault(before);
        }
    }
}
