package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.SampleMeasurements;
import org.junit.jupiter.api.Test;

/** The least load that keeps a limit, and whether every greater one does. */
class LeastLoadTest {
    @Test
    void leastLoadForOneDecibelIsTheClosedForm() {
        LeastLoad least = LeastLoad.search(PlainSources.resistor(200), PlainSources::ohms, LoadedCurve::worstLoss, 1);
        assertThat(least.ohm().value()).isCloseTo(200 / (Math.pow(10, 0.05) - 1), within(1e-4));
        assertThat(least.upToOhm()).isInfinite();
        assertThat(least.isAny()).isFalse();
    }

    @Test
    void leastLoadKeepsItsLimitAndALowerOneDoesNot() {
        SourceCurve source = SourceCurve.of(SampleMeasurements.movingCoil().curve(), 20, 20_000);
        LeastLoad least = LeastLoad.search(source, PlainSources::ohms, LoadedCurve::tilt, 0.5);
        double ohm = least.ohm().value();
        assertThat(LoadedCurve.of(source, PlainSources.ohms(ohm * 1.001)).tilt().value())
                .isLessThan(0.5);
        assertThat(LoadedCurve.of(source, PlainSources.ohms(ohm * 0.999)).tilt().value())
                .isGreaterThan(0.5);
        assertThat(least.ohm().u95() / ohm).isBetween(0.001, 0.2);
    }

    @Test
    void aFlatSourceHasNoTiltWithAnyLoad() {
        assertThat(LeastLoad.search(PlainSources.resistor(200), PlainSources::ohms, LoadedCurve::tilt, 0.5)
                        .isAny())
                .isTrue();
    }

    @Test
    void aLongCableCanNeedALoadThatDamps() {
        // 200 Ω and 20 mH with 10 nF: a resonance at 11 kHz that rises when nothing damps it.
        FrequencyBands bands = FrequencyBands.within(12, 20, 20_000);
        List<BandValue> values = new ArrayList<>();
        for (double f : bands.midbands()) {
            values.add(BandValue.complex(
                    f, 200, 2 * Math.PI * f * 0.02, PlaneCovariance.ZERO, 0, 0, 60, new BandBudget(0, 0, 0, 0, 0)));
        }
        SourceCurve source = SourceCurve.of(new ImpedanceCurve(bands, values, false), 20, 10_000);
        LeastLoad least =
                LeastLoad.search(source, ohm -> PlainSources.ohms(ohm).withCable(100, 100, 0), LoadedCurve::tilt, 6);
        assertThat(least.upToOhm()).isFinite().isGreaterThan(least.ohm().value());
    }
}
