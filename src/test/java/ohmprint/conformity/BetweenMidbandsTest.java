package ohmprint.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import ohmprint.conformity.Specification.MaskRange;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import org.junit.jupiter.api.Test;

/** What curves and references are taken to be between the frequencies they have values for. */
class BetweenMidbandsTest extends DecidedCurves {
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

    @Test
    void referenceIsAStraightLineInLogarithms() {
        List<ReferenceCurve.Point> points = List.of(
                new ReferenceCurve.Point(100, 100, 90, 110, 0), new ReferenceCurve.Point(10_000, 400, 360, 440, 0));
        ReferenceCurve reference = new ReferenceCurve(points, 100, 10_000, 3);
        assertThat(reference.ohm(1000)).isCloseTo(200, within(1e-9));
        assertThat(reference.limits(1000).lowOhm()).isCloseTo(180, within(1e-9));
        assertThat(reference.limits(10_000).highOhm()).isCloseTo(440, within(1e-9));
    }
}
