package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import ohmprint.circuit.SourceCurve.SourceBand;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.PredictedValue;
import ohmprint.impedance.SampleMeasurements;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;

/** Losses of curves that know bounds of the impedance, or its modulus without the sign of the reactance. */
class LossBoundsTest {
    @Test
    void boundsOfTheImpedanceGiveBoundsOfTheLoss() {
        SourceCurve source = SourceCurve.of(SampleMeasurements.intervalsOnly().curve(), 20, 10_000);
        LoadedCurve loaded = LoadedCurve.of(source, PlainSources.ohms(1000));
        PredictedValue worst = loaded.worstLoss();
        assertThat(worst.isBounded()).isTrue();
        for (int i = 0; i < loaded.losses().size(); i++) {
            BandValue v = SampleMeasurements.intervalsOnly().curve().values().get(i);
            PredictedValue loss = loaded.losses().get(i);
            if (loss.isBounded()) {
                // Pure reactance of the least size, pure resistance of the greatest.
                assertThat(loss.low())
                        .isCloseTo(
                                20 * Math.log10(Math.hypot(1, v.magnitudeLowOhm() / 1000)),
                                within(PlainSources.TOLERANCE_DB));
                assertThat(loss.high())
                        .isCloseTo(20 * Math.log10(1 + v.magnitudeHighOhm() / 1000), within(PlainSources.TOLERANCE_DB));
            }
        }
        assertThat(loaded.tilt().isBounded()).isTrue();
        assertThat(loaded.changes().get(3).low()).isNegative();
        assertThat(source.tenTimes().isBounded()).isTrue();
        LeastLoad least = LeastLoad.search(source, PlainSources::ohms, LoadedCurve::worstLoss, 1);
        assertThat(least.ohm().low()).isLessThan(least.ohm().high());
    }

    @Test
    void everyImpedanceWithinBoundsLosesWithinBounds() {
        SplittableRandom random = new SplittableRandom(7);
        Complex y = new Complex(1 / 3000.0, 2 * Math.PI * 15_000 * 6e-9);
        PredictedValue bounds = LoadedCurve.lossBounds(SourceBand.bounds(15_000, 500, 2500), y);
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < 20_000; i++) {
            double angle = Math.PI * (random.nextDouble() - 0.5);
            double modulus = 500 + 2000 * random.nextDouble();
            double db = Divider.lossDb(new Complex(modulus * Math.cos(angle), modulus * Math.sin(angle)), y);
            least = Math.min(least, db);
            most = Math.max(most, db);
        }
        assertThat(least).isBetween(bounds.low(), bounds.low() + 0.05);
        assertThat(most).isBetween(bounds.high() - 0.05, bounds.high());
    }

    @Test
    void withoutTheSignOfTheReactanceACapacitanceWidensTheUncertainty() {
        ImpedanceCurve curve = SampleMeasurements.magnitudesOnly().curve();
        SourceCurve source = SourceCurve.of(curve, 20, 20_000);
        int band = 24;
        BandValue v = curve.values().get(band);
        double x = Math.sqrt(v.magnitudeOhm() * v.magnitudeOhm() - v.resistanceOhm() * v.resistanceOhm());
        InputImpedance load = PlainSources.ohms(1000).withCable(100, 100, 0);
        Complex y = load.admittance(v.frequencyHz());
        double one = Divider.lossDb(new Complex(v.resistanceOhm(), x), y);
        double other = Divider.lossDb(new Complex(v.resistanceOhm(), -x), y);
        PredictedValue loss = LoadedCurve.of(source, load).losses().get(band);
        assertThat(loss.value()).isCloseTo((one + other) / 2, within(PlainSources.TOLERANCE_DB));
        assertThat(loss.u95()).isGreaterThan(CoverageFactor.NORMAL * Math.abs(one - other) / 2);
        // A resistor alone does not ask for the sign: L = 10·lg(1 + 2·R·g + |Z|²·g²), with |Z| known to what the band
        // states and R,
        // of which such a curve says nothing, to twice as much of it.
        double g = 1e-3;
        double m = v.magnitudeOhm();
        double relative = v.magnitudeU95Ohm() / m;
        double slope = 10 / Math.log(10) / (1 + 2 * v.resistanceOhm() * g + m * m * g * g);
        double byR = slope * 2 * g * v.resistanceOhm() * 2 * relative;
        double byModulus = slope * 2 * g * g * m * m * relative;
        assertThat(LoadedCurve.of(source, PlainSources.ohms(1000))
                        .losses()
                        .get(band)
                        .u95())
                .isBetween(0.95 * Math.hypot(byR, byModulus), 1.05 * (byR + byModulus));
    }
}
