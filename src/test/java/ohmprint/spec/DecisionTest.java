package ohmprint.spec;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Locale;
import ohmprint.curve.BandStatus;
import ohmprint.curve.BandValue;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.Microphone;
import ohmprint.curve.Usability;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Verdicts on curves whose answer is plain. */
class DecisionTest {
    private static final MaskRange MASK = new MaskRange(200, 10_000, 200, 400);

    private static Verdict decide(Specification specification, ImpedanceCurve curve) {
        return Decision.of(specification, Curves.ribbon(curve));
    }

    private static RequirementVerdict only(Verdict verdict) {
        assertThat(verdict.requirements()).hasSize(1);
        return verdict.requirements().get(0);
    }

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
                Curves.curve(hz -> 300, 1), 1000, 1050, hz -> Curves.value(hz, 150, 1.5, GuardBand.NORMAL_FACTOR));
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
        // Quantiles of 0.025/68: of t for ν = 4 by its tail 1/2 − x/2·(1 + (1 − x²)/2), x = t/√(4 + t²), and the normal
        // one.
        assertThat(wide / 3).isCloseTo(9.3278, within(0.01));
        assertThat(usual / 3).isCloseTo(3.376069, within(1e-4));
    }

    @Test
    void aBandWithoutValueInsideAMaskLeavesItOpenAndIsNamed() {
        ImpedanceCurve gap = Curves.with(Curves.curve(hz -> 300, 0.5), 900, 1100, hz -> BandValue.rejected(hz, 3));
        RequirementVerdict mask = only(decide(Curves.mask(MASK), gap));
        assertThat(mask.conformity()).isEqualTo(Conformity.UNDECIDED);
        assertThat(mask.findings())
                .containsExactly("the curve has no value in 4 bands from 917 Hz to 1.09 kHz; record again with more"
                        + " signal there");
        assertThat(only(decide(Curves.rated(300, 20), gap)).conformity()).isEqualTo(Conformity.UNDECIDED);
    }

    @Test
    void whatIsMissingDoesNotHideWhatIsOutside() {
        ImpedanceCurve gap = Curves.with(Curves.curve(hz -> 100, 0.5), 900, 1100, hz -> BandValue.rejected(hz, 3));
        assertThat(decide(Curves.mask(MASK), gap).conformity()).isEqualTo(Conformity.OUTSIDE);
    }

    @Test
    void aMaskBeyondTheCurveLeavesItOpen() {
        ImpedanceCurve curve = Curves.curve(FrequencyBands.within(12, 100, 5000), hz -> 300, 0.5);
        RequirementVerdict mask = only(decide(Curves.mask(new MaskRange(50, 10_000, 200, 400)), curve));
        assertThat(mask.conformity()).isEqualTo(Conformity.UNDECIDED);
        assertThat(mask.reasons()).hasSize(2).allSatisfy(r -> assertThat(r).contains("the curve has no bands from"));
        assertThat(mask.reasons().get(0)).contains("50 Hz to");
        assertThat(mask.reasons().get(1)).contains("to 10 kHz");
        assertThat(only(decide(Curves.mask(new MaskRange(20, 20_000, 200, 400)), Curves.curve(hz -> 300, 1)))
                        .conformity())
                .isEqualTo(Conformity.WITHIN);
    }

    @Test
    void aRangeBetweenTwoMidbandsIsReadBetweenThem() {
        RequirementVerdict mask =
                only(decide(Curves.mask(new MaskRange(995, 1005, 200, 400)), Curves.curve(hz -> 0.3 * hz, 0.5)));
        assertThat(mask.checks()).singleElement().satisfies(c -> {
            assertThat(c.interpolated()).isTrue();
            assertThat(c.ohm()).isCloseTo(300, within(0.01));
        });
    }

    @Test
    void aBendBetweenMidbandsIsPartOfTheUncertainty() {
        // |Z| = 300 Ω·exp(−(ln(f/1 kHz)/0.2)²): at the top of a hill the straight line between two bands is too low.
        ImpedanceCurve hill = Curves.curve(
                FrequencyBands.within(6, 100, 10_000),
                hz -> 300 * Math.exp(-Math.pow(Math.log(hz / 1000) / 0.2, 2)),
                0.001);
        BandCheck check = only(decide(Curves.rated(300, 5), hill)).checks().get(0);
        assertThat(300 - check.ohm()).isBetween(15.0, 30.0);
        assertThat(check.u95Ohm()).isGreaterThan(300 - check.ohm()).isLessThan(1.5 * (300 - check.ohm()));
        assertThat(check.conformity()).isEqualTo(Conformity.UNDECIDED);
    }

    @ParameterizedTest
    @CsvSource({
        "210, 390, within",
        "190, 390, undecided",
        "210, 410, undecided",
        "100, 199, undecided",
        "198, 199, outside",
        "100, 120, outside",
        "402, 403, outside",
        "401, 900, undecided",
        "600, Infinity, undecided",
        "210, Infinity, undecided"
    })
    void boundsAloneDecideWhenTheyAreClear(double low, double high, String answer) {
        ImpedanceCurve curve =
                Curves.with(Curves.curve(hz -> 300, 1), 0, 30_000, hz -> BandValue.interval(hz, low, high, 40));
        RequirementVerdict mask = only(decide(Curves.mask(MASK), curve));
        assertThat(mask.conformity().word()).isEqualTo(answer);
        assertThat(mask.checks()).allSatisfy(c -> {
            assertThat(c.status()).isEqualTo(BandStatus.INTERVAL);
            assertThat(c.ohm()).isNaN();
        });
        assertThat(mask.findings()).isNotEmpty();
    }

    @Test
    void aLowerLimitAloneIsMetByAnOpenBound() {
        ImpedanceCurve curve = Curves.with(
                Curves.curve(hz -> 300, 1), 0, 30_000, hz -> BandValue.interval(hz, 300, Double.POSITIVE_INFINITY, 40));
        MaskRange range = new MaskRange(200, 10_000, 200, Double.POSITIVE_INFINITY);
        assertThat(decide(Curves.mask(range), curve).conformity()).isEqualTo(Conformity.WITHIN);
    }

    @Test
    void aCurveInParallelWithAnUnknownInputCannotBeDecided() {
        ImpedanceCurve curve = Curves.curve(hz -> 100, 0.1);
        ImpedanceCurve parallel = new ImpedanceCurve(curve.bands(), curve.values(), true);
        Verdict verdict = decide(Curves.mask(MASK), parallel);
        assertThat(verdict.conformity()).isEqualTo(Conformity.UNDECIDED);
        assertThat(verdict.requirements()).isEmpty();
        assertThat(verdict.reasons()).singleElement().asString().contains("in parallel with an unknown input");
        assertThat(FaultPatterns.of(Curves.mask(MASK), Curves.ribbon(parallel), verdict))
                .isEmpty();
    }

    @Test
    void anUnusableMeasurementCannotBeDecidedAndADoubtfulOneIsNoted() {
        ImpedanceCurve curve = Curves.curve(hz -> 100, 0.1);
        Verdict unusable = Decision.of(Curves.mask(MASK), Curves.measurement(curve, "ribbon", Usability.UNUSABLE));
        assertThat(unusable.conformity()).isEqualTo(Conformity.UNDECIDED);
        assertThat(unusable.reasons()).singleElement().asString().contains("unusable");
        Verdict doubtful = Decision.of(Curves.mask(MASK), Curves.measurement(curve, "ribbon", Usability.DOUBTFUL));
        assertThat(doubtful.conformity()).isEqualTo(Conformity.OUTSIDE);
        assertThat(doubtful.notes()).singleElement().asString().contains("doubtful");
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
    void referenceIsAStraightLineInLogarithms() {
        List<ReferenceCurve.Point> points = List.of(
                new ReferenceCurve.Point(100, 100, 90, 110, 0), new ReferenceCurve.Point(10_000, 400, 360, 440, 0));
        ReferenceCurve reference = new ReferenceCurve(points, 100, 10_000, 3);
        assertThat(reference.ohm(1000)).isCloseTo(200, within(1e-9));
        assertThat(reference.limits(1000).lowOhm()).isCloseTo(180, within(1e-9));
        assertThat(reference.limits(10_000).highOhm()).isCloseTo(440, within(1e-9));
    }

    /** A resonance of 150 Hz with a peak of 100 Ω on 200 Ω; the window decides. */
    @ParameterizedTest
    @CsvSource({"120, 190, within", "60, 100, outside", "200, 300, outside", "150, 300, undecided"})
    void theResonanceIsLookedFor(double from, double to, String answer) {
        ImpedanceCurve curve = Curves.curve(hz -> 200 + 100 / (1 + Math.pow(4 * Math.log(hz / 150), 2)), 0.05);
        PeakCheck peak = only(decide(Curves.resonance(new ResonanceWindow(from, to, 40, 600)), curve))
                .peak();
        assertThat(peak.conformity().word()).isEqualTo(answer);
        assertThat(peak.peakHz()).isCloseTo(150, within(1.0));
        assertThat(peak.earliestHz()).isLessThan(150);
        assertThat(peak.latestHz()).isGreaterThan(150);
    }

    @Test
    void aFlatCurveHasNoResonanceToDecide() {
        PeakCheck peak = only(decide(
                        Curves.resonance(new ResonanceWindow(100, 200, 40, 600)), Curves.curve(hz -> 300, 1)))
                .peak();
        assertThat(peak.conformity()).isEqualTo(Conformity.UNDECIDED);
        assertThat(peak.earliestHz()).isEqualTo(40);
        assertThat(peak.latestHz()).isEqualTo(600);
    }

    @Test
    void aGapInTheSearchLeavesTheResonanceOpen() {
        ImpedanceCurve gap = Curves.with(Curves.curve(hz -> 300, 1), 50, 55, hz -> BandValue.rejected(hz, 3));
        RequirementVerdict verdict = only(decide(Curves.resonance(new ResonanceWindow(100, 200, 40, 600)), gap));
        assertThat(verdict.conformity()).isEqualTo(Conformity.UNDECIDED);
        assertThat(verdict.findings()).singleElement().asString().contains("has no value");
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
