package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import ohmprint.conformity.Specification.ResonanceWindow;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Whether a resonance lies in its window. */
class ResonanceDecisionTest extends DecidedCurves {
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
}
