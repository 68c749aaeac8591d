package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;

import ohmprint.conformity.Specification.MaskRange;
import ohmprint.impedance.BandStatus;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Usability;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What leaves a decision open: bands without a value, bounds that are not clear, measurements that cannot be relied on. */
class OpenDecisionTest extends DecidedCurves {
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
    void aRunThatBeginsWithoutValueIsToldByItsBounds() {
        ImpedanceCurve bounded =
                Curves.with(Curves.curve(hz -> 300, 0.5), 900, 1300, hz -> BandValue.interval(hz, 100, 900, 30));
        ImpedanceCurve gap = Curves.with(bounded, 900, 1000, hz -> BandValue.rejected(hz, 3));
        RequirementVerdict mask = only(decide(Curves.mask(MASK), gap));
        assertThat(mask.conformity()).isEqualTo(Conformity.UNDECIDED);
        assertThat(mask.findings().get(0)).contains("between 100 Ω and 900 Ω").doesNotContain("NaN");
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
}
