package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import ohmprint.impedance.PredictedValue;
import ohmprint.impedance.SampleMeasurements;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What a load takes from a curve, band by band, at one kilohertz and at its worst. */
class LoadedCurveTest {
    /** Loss of a divider of equal phases, 20·lg(1 + 1/n): computed independently to five digits. */
    @ParameterizedTest
    @CsvSource({"5, 1.5836", "10, 0.8279", "20, 0.4238", "1, 6.0206"})
    void lossOfAMultipleOfTheSource(double times, double db) {
        LoadedCurve loaded = LoadedCurve.of(PlainSources.resistor(200), PlainSources.ohms(200 * times));
        assertThat(loaded.worstLoss().value()).isCloseTo(db, within(0.00005));
        assertThat(loaded.lossAtReference().value()).isCloseTo(db, within(0.00005));
        assertThat(loaded.tilt().value()).isCloseTo(0, within(PlainSources.TOLERANCE_DB));
        assertThat(loaded.leastRatio().value()).isCloseTo(times, within(1e-9 * times));
    }

    /** Ten times the source leaves 90.9 % of the voltage: 10/11. */
    @Test
    void tenTimesLeavesTenElevenths() {
        double db = LoadedCurve.of(PlainSources.resistor(150), PlainSources.ohms(1500))
                .worstLoss()
                .value();
        assertThat(Math.pow(10, -db / 20)).isCloseTo(10 / 11.0, within(1e-12));
    }

    /** Two 6.81 kΩ feeds across the line in parallel with an input: closed form, computed independently. */
    @ParameterizedTest
    @CsvSource({"1000, 931.60", "1500, 1351.19", "2000, 1743.92", "3000, 2458.48"})
    void phantomFeedsLieAcrossTheInput(double ohm, double together) {
        LoadedCurve fed = LoadedCurve.of(
                PlainSources.resistor(200), PlainSources.ohms(ohm).withPhantomFeeds());
        assertThat(fed.leastRatio().value() * 200).isCloseTo(together, within(0.005));
    }

    @Test
    void aCableIsACapacitanceByItsLength() {
        Complex y = PlainSources.ohms(2000).withCable(25, 100, 10).admittance(10_000);
        assertThat(y.getReal()).isCloseTo(1 / 2000.0, within(1e-15));
        assertThat(y.getImaginary()).isCloseTo(2 * Math.PI * 10_000 * 2.5e-9, within(1e-15));
        assertThat(PlainSources.ohms(2000).withCable(25, 100, 10).label())
                .isEqualTo("2000 Ω ± 0 % ∥ cable 25 m, 2500 pF");
    }

    @Test
    void changesAreCountedFromOneKilohertzAndTiltIsTheirSpread() {
        SourceCurve source = SourceCurve.of(SampleMeasurements.movingCoil().curve(), 20, 20_000);
        LoadedCurve loaded = LoadedCurve.of(source, PlainSources.ohms(600));
        List<PredictedValue> changes = loaded.changes();
        double most = changes.stream().mapToDouble(PredictedValue::value).max().orElseThrow();
        double least = changes.stream().mapToDouble(PredictedValue::value).min().orElseThrow();
        assertThat(loaded.tilt().value()).isCloseTo(most - least, within(PlainSources.TOLERANCE_DB));
        // 300 Ω at the resonance of 150 Hz: 20·lg(1 + 300/600), and 1 kHz is 202.3006 − j8.70905 Ω.
        assertThat(loaded.worstLoss().value()).isCloseTo(20 * Math.log10(1.5), within(0.01));
        assertThat(loaded.worstLoss().hz()).isBetween(140.0, 160.0);
        double reference = 20
                * Math.log10(new Complex(202.3006, -8.70905).divide(600).add(1).abs());
        assertThat(loaded.lossAtReference().value()).isCloseTo(reference, within(0.002));
        assertThat(loaded.largestChange().value()).isEqualTo(least);
    }

    @Test
    void tenTimesHoldsAtTheGreatestImpedanceNotAtOneKilohertz() {
        SourceCurve source = SourceCurve.of(SampleMeasurements.movingCoil().curve(), 20, 20_000);
        assertThat(source.tenTimes().value()).isCloseTo(3000, within(20.0));
        assertThat(source.tenTimes().hz()).isBetween(140.0, 160.0);
        assertThat(source.tenTimes().u95()).isPositive();
    }

    @Test
    void nothingIsSaidOfRejectedBandsNorOutsideTheCurve() {
        SourceCurve source = SourceCurve.of(SampleMeasurements.ribbonWithGaps().curve(), 20, 20_000);
        LoadedCurve loaded = LoadedCurve.of(source, PlainSources.ohms(1000));
        assertThat(source.gaps()).isEqualTo(6);
        assertThat(loaded.losses().stream().filter(p -> !p.isValue() && !p.isBounded()))
                .hasSize(6);
        assertThat(source.lowestHz()).isGreaterThan(25);
        assertThatThrownBy(() -> SourceCurve.of(SampleMeasurements.movingCoil().curve(), 5, 10))
                .hasMessageContaining("says nothing between 5 Hz and 10 Hz");
        SourceCurve high = SourceCurve.of(SampleMeasurements.movingCoilCurve(12, 2000, 18_000), 20, 20_000);
        assertThat(high.hasReference()).isFalse();
        LoadedCurve without = LoadedCurve.of(high, PlainSources.ohms(1000));
        assertThat(without.lossAtReference().isValue()).isFalse();
        assertThat(without.largestChange().isValue()).isFalse();
        assertThat(without.tilt().isValue()).isTrue();
    }
}
