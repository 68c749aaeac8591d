package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.Function;
import ohmprint.curve.BandBudget;
import ohmprint.curve.BandValue;
import ohmprint.curve.CauseOrigin;
import ohmprint.curve.CurveCovariance;
import ohmprint.curve.FrequencyBands;
import ohmprint.curve.ImpedanceCurve;
import ohmprint.curve.PlaneCovariance;
import ohmprint.curve.PredictedValue;
import ohmprint.curve.SampleMeasurements;
import ohmprint.curve.SharedCause;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LoadedCurveTest {
    private static final double TOLERANCE_DB = 1e-9;

    private static InputImpedance ohms(double ohm) {
        return InputImpedance.ofOhms(ohm, 0);
    }

    private static ImpedanceCurve constant(int fraction, Complex z, PlaneCovariance covariance) {
        FrequencyBands bands = FrequencyBands.within(fraction, 20, 20_000);
        List<BandValue> values = new ArrayList<>();
        for (double f : bands.midbands()) {
            values.add(BandValue.complex(
                    f, z.getReal(), z.getImaginary(), covariance, 0, 0, 60, new BandBudget(0, 0, 0, 0, 0)));
        }
        return new ImpedanceCurve(bands, values, false);
    }

    private static SourceCurve resistor(double ohm) {
        return SourceCurve.of(constant(12, new Complex(ohm), PlaneCovariance.ZERO), 20, 20_000);
    }

    /** Loss of a divider of equal phases, 20·lg(1 + 1/n): computed independently to five digits. */
    @ParameterizedTest
    @CsvSource({"5, 1.5836", "10, 0.8279", "20, 0.4238", "1, 6.0206"})
    void lossOfAMultipleOfTheSource(double times, double db) {
        LoadedCurve loaded = LoadedCurve.of(resistor(200), ohms(200 * times));
        assertThat(loaded.worstLoss().value()).isCloseTo(db, within(0.00005));
        assertThat(loaded.lossAtReference().value()).isCloseTo(db, within(0.00005));
        assertThat(loaded.tilt().value()).isCloseTo(0, within(TOLERANCE_DB));
        assertThat(loaded.leastRatio().value()).isCloseTo(times, within(1e-9 * times));
    }

    /** Ten times the source leaves 90.9 % of the voltage: 10/11. */
    @Test
    void tenTimesLeavesTenElevenths() {
        double db = LoadedCurve.of(resistor(150), ohms(1500)).worstLoss().value();
        assertThat(Math.pow(10, -db / 20)).isCloseTo(10 / 11.0, within(1e-12));
    }

    /** Two 6.81 kΩ feeds across the line in parallel with an input: closed form, computed independently. */
    @ParameterizedTest
    @CsvSource({"1000, 931.60", "1500, 1351.19", "2000, 1743.92", "3000, 2458.48"})
    void phantomFeedsLieAcrossTheInput(double ohm, double together) {
        LoadedCurve fed = LoadedCurve.of(resistor(200), ohms(ohm).withPhantomFeeds());
        assertThat(fed.leastRatio().value() * 200).isCloseTo(together, within(0.005));
    }

    @Test
    void aCableIsACapacitanceByItsLength() {
        Complex y = ohms(2000).withCable(25, 100, 10).admittance(10_000);
        assertThat(y.getReal()).isCloseTo(1 / 2000.0, within(1e-15));
        assertThat(y.getImaginary()).isCloseTo(2 * Math.PI * 10_000 * 2.5e-9, within(1e-15));
        assertThat(ohms(2000).withCable(25, 100, 10).label()).isEqualTo("2000 Ω ± 0 % ∥ cable 25 m, 2500 pF");
    }

    @Test
    void changesAreCountedFromOneKilohertzAndTiltIsTheirSpread() {
        SourceCurve source = SourceCurve.of(SampleMeasurements.movingCoil().curve(), 20, 20_000);
        LoadedCurve loaded = LoadedCurve.of(source, ohms(600));
        List<PredictedValue> changes = loaded.changes();
        double most = changes.stream().mapToDouble(PredictedValue::value).max().orElseThrow();
        double least = changes.stream().mapToDouble(PredictedValue::value).min().orElseThrow();
        assertThat(loaded.tilt().value()).isCloseTo(most - least, within(TOLERANCE_DB));
        // 300 Ω at the resonance of 150 Hz: 20·lg(1 + 300/600), and 1 kHz is 202.3006 − j8.70905 Ω.
        assertThat(loaded.worstLoss().value()).isCloseTo(20 * Math.log10(1.5), within(0.01));
        assertThat(loaded.worstLoss().hz()).isBetween(140.0, 160.0);
        double reference = 20
                * Math.log10(new Complex(202.3006, -8.70905).divide(600).add(1).abs());
        assertThat(loaded.lossAtReference().value()).isCloseTo(reference, within(0.002));
        assertThat(loaded.largestChange().value()).isEqualTo(least);
    }

    /** Linear propagation against random draws of the whole curve. Source: JCGM 101:2008. */
    @Test
    void uncertaintiesAgreeWithRandomDraws() {
        Complex z = new Complex(180, 90);
        PlaneCovariance covariance = new PlaneCovariance(4, 9, 2.5);
        SourceCurve source = SourceCurve.of(constant(1, z, covariance), 20, 20_000);
        InputImpedance load = InputImpedance.ofOhms(900, 5, 20_000, 10);
        SplittableRandom random = new SplittableRandom(20_260_304);
        Function<LoadedCurve, double[]> results = loaded -> new double[] {
            loaded.losses().get(9).value(),
            loaded.changes().get(9).value(),
            loaded.leastRatio().value()
        };
        int draws = 4000;
        double[] sum = new double[3];
        double[] squares = new double[3];
        for (int d = 0; d < draws; d++) {
            double pr = random.nextGaussian();
            double pc = random.nextGaussian();
            InputImpedance drawn = InputImpedance.ofOhms(
                    900 * (1 + pr * 0.05 / Math.sqrt(3)), 0, 20_000 * (1 + pc * 0.1 / Math.sqrt(3)), 0);
            List<BandValue> values = new ArrayList<>();
            for (BandValue v : constant(1, z, covariance).values()) {
                double g = random.nextGaussian();
                double r = 180 + 2 * g;
                double x = 90 + 1.25 * g + Math.sqrt(9 - 1.25 * 1.25) * random.nextGaussian();
                values.add(BandValue.complex(
                        v.frequencyHz(), r, x, PlaneCovariance.ZERO, 0, 0, 60, new BandBudget(0, 0, 0, 0, 0)));
            }
            ImpedanceCurve curve = new ImpedanceCurve(FrequencyBands.within(1, 20, 20_000), values, false);
            double[] out = results.apply(LoadedCurve.of(SourceCurve.of(curve, 20, 20_000), drawn));
            for (int i = 0; i < 3; i++) {
                sum[i] += out[i];
                squares[i] += out[i] * out[i];
            }
        }
        LoadedCurve loaded = LoadedCurve.of(source, load);
        double[] stated = {
            loaded.losses().get(9).u95(),
            loaded.changes().get(9).u95(),
            loaded.leastRatio().u95()
        };
        for (int i = 0; i < 2; i++) {
            double deviation = Math.sqrt(squares[i] / draws - Math.pow(sum[i] / draws, 2));
            assertThat(stated[i] / PredictedValue.COVERAGE / deviation)
                    .as("result %d", i)
                    .isBetween(0.95, 1.05);
        }
        assertThat(stated[2]).isPositive();
    }

    @Test
    void whatMovesAllFrequenciesOfTheLoadCancelsInTheChange() {
        SourceCurve source = resistor(200);
        LoadedCurve loaded = LoadedCurve.of(source, InputImpedance.ofOhms(1000, 5));
        assertThat(loaded.worstLoss().u95()).isGreaterThan(0.05);
        assertThat(loaded.tilt().u95()).isLessThan(1e-9);
        assertThat(loaded.changes()).allSatisfy(c -> assertThat(c.u95()).isLessThan(1e-9));
    }

    /** A cause that moves all bands alike moves the loss but hardly the change; noise of each band moves both. */
    @Test
    void whatMovesAllBandsOfTheSourceCancelsInTheChange() {
        ImpedanceCurve alone = constant(12, new Complex(200), PlaneCovariance.circular(4));
        int n = alone.values().size();
        double[] dR = new double[n];
        Arrays.fill(dR, 4);
        SharedCause gain = SharedCause.ofOhms("gain of take 1", CauseOrigin.DRIFT, dR, new double[n]);
        CurveCovariance together = CurveCovariance.of(List.of(gain), Collections.nCopies(n, PlaneCovariance.ZERO));
        ImpedanceCurve shared = new ImpedanceCurve(alone.bands(), alone.values(), false, together);
        LoadedCurve one = LoadedCurve.of(SourceCurve.of(alone, 20, 20_000), ohms(1000));
        LoadedCurve other = LoadedCurve.of(SourceCurve.of(shared, 20, 20_000), ohms(1000));
        assertThat(other.losses().get(5).u95()).isCloseTo(one.losses().get(5).u95(), within(1e-9));
        assertThat(one.changes().get(5).u95()).isGreaterThan(one.losses().get(5).u95());
        assertThat(other.changes().get(5).u95()).isLessThan(1e-9);
    }

    @Test
    void leastLoadForOneDecibelIsTheClosedForm() {
        LeastLoad least = LeastLoad.search(resistor(200), LoadedCurveTest::ohms, LoadedCurve::worstLoss, 1);
        assertThat(least.ohm().value()).isCloseTo(200 / (Math.pow(10, 0.05) - 1), within(1e-4));
        assertThat(least.upToOhm()).isInfinite();
        assertThat(least.isAny()).isFalse();
    }

    @Test
    void leastLoadKeepsItsLimitAndALowerOneDoesNot() {
        SourceCurve source = SourceCurve.of(SampleMeasurements.movingCoil().curve(), 20, 20_000);
        LeastLoad least = LeastLoad.search(source, LoadedCurveTest::ohms, LoadedCurve::tilt, 0.5);
        double ohm = least.ohm().value();
        assertThat(LoadedCurve.of(source, ohms(ohm * 1.001)).tilt().value()).isLessThan(0.5);
        assertThat(LoadedCurve.of(source, ohms(ohm * 0.999)).tilt().value()).isGreaterThan(0.5);
        assertThat(least.ohm().u95() / ohm).isBetween(0.001, 0.2);
    }

    @Test
    void aFlatSourceHasNoTiltWithAnyLoad() {
        assertThat(LeastLoad.search(resistor(200), LoadedCurveTest::ohms, LoadedCurve::tilt, 0.5)
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
        LeastLoad least = LeastLoad.search(source, ohm -> ohms(ohm).withCable(100, 100, 0), LoadedCurve::tilt, 6);
        assertThat(least.upToOhm()).isFinite().isGreaterThan(least.ohm().value());
    }

    @Test
    void tenTimesHoldsAtTheGreatestImpedanceNotAtOneKilohertz() {
        SourceCurve source = SourceCurve.of(SampleMeasurements.movingCoil().curve(), 20, 20_000);
        assertThat(source.tenTimes().value()).isCloseTo(3000, within(20.0));
        assertThat(source.tenTimes().hz()).isBetween(140.0, 160.0);
        assertThat(source.tenTimes().u95()).isPositive();
    }

    @Test
    void boundsOfTheImpedanceGiveBoundsOfTheLoss() {
        SourceCurve source = SourceCurve.of(SampleMeasurements.intervalsOnly().curve(), 20, 10_000);
        LoadedCurve loaded = LoadedCurve.of(source, ohms(1000));
        PredictedValue worst = loaded.worstLoss();
        assertThat(worst.isBounded()).isTrue();
        for (int i = 0; i < loaded.losses().size(); i++) {
            BandValue v = SampleMeasurements.intervalsOnly().curve().values().get(i);
            PredictedValue loss = loaded.losses().get(i);
            if (loss.isBounded()) {
                // Pure reactance of the least size, pure resistance of the greatest.
                assertThat(loss.low())
                        .isCloseTo(20 * Math.log10(Math.hypot(1, v.magnitudeLowOhm() / 1000)), within(TOLERANCE_DB));
                assertThat(loss.high())
                        .isCloseTo(20 * Math.log10(1 + v.magnitudeHighOhm() / 1000), within(TOLERANCE_DB));
            }
        }
        assertThat(loaded.tilt().isBounded()).isTrue();
        assertThat(loaded.changes().get(3).low()).isNegative();
        assertThat(source.tenTimes().isBounded()).isTrue();
        LeastLoad least = LeastLoad.search(source, LoadedCurveTest::ohms, LoadedCurve::worstLoss, 1);
        assertThat(least.ohm().low()).isLessThan(least.ohm().high());
    }

    @Test
    void everyImpedanceWithinBoundsLosesWithinBounds() {
        SplittableRandom random = new SplittableRandom(7);
        Complex y = new Complex(1 / 3000.0, 2 * Math.PI * 15_000 * 6e-9);
        PredictedValue bounds = LossBounds.of(SourceBand.bounds(15_000, 500, 2500), y);
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
        InputImpedance load = ohms(1000).withCable(100, 100, 0);
        Complex y = load.admittance(v.frequencyHz());
        double one = Divider.lossDb(new Complex(v.resistanceOhm(), x), y);
        double other = Divider.lossDb(new Complex(v.resistanceOhm(), -x), y);
        PredictedValue loss = LoadedCurve.of(source, load).losses().get(band);
        assertThat(loss.value()).isCloseTo((one + other) / 2, within(TOLERANCE_DB));
        assertThat(loss.u95()).isGreaterThan(PredictedValue.COVERAGE * Math.abs(one - other) / 2);
        // A resistor alone does not ask for the sign: the uncertainty is that of |Z|, 4 % of about 1.4 dB.
        assertThat(LoadedCurve.of(source, ohms(1000)).losses().get(band).u95()).isBetween(0.02, 0.08);
    }

    @Test
    void nothingIsSaidOfRejectedBandsNorOutsideTheCurve() {
        SourceCurve source = SourceCurve.of(SampleMeasurements.ribbonWithGaps().curve(), 20, 20_000);
        LoadedCurve loaded = LoadedCurve.of(source, ohms(1000));
        assertThat(source.gaps()).isEqualTo(6);
        assertThat(loaded.losses().stream().filter(p -> !p.isValue() && !p.isBounded()))
                .hasSize(6);
        assertThat(source.lowestHz()).isGreaterThan(25);
        assertThatThrownBy(() -> SourceCurve.of(SampleMeasurements.movingCoil().curve(), 5, 10))
                .hasMessageContaining("says nothing between 5 Hz and 10 Hz");
        SourceCurve high = SourceCurve.of(SampleMeasurements.movingCoilCurve(12, 2000, 18_000), 20, 20_000);
        assertThat(high.hasReference()).isFalse();
        LoadedCurve without = LoadedCurve.of(high, ohms(1000));
        assertThat(without.lossAtReference().isValue()).isFalse();
        assertThat(without.largestChange().isValue()).isFalse();
        assertThat(without.tilt().isValue()).isTrue();
    }
}
