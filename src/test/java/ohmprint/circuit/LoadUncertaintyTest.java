package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.Function;
import ohmprint.impedance.BandBudget;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.CauseOrigin;
import ohmprint.impedance.CurveCovariance;
import ohmprint.impedance.FrequencyBands;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.ImpedanceOutline;
import ohmprint.impedance.PlaneCovariance;
import ohmprint.impedance.PredictedValue;
import ohmprint.impedance.SharedCause;
import ohmprint.uncertainty.CoverageFactor;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;

/** How uncertain losses and changes are, and what cancels in a change. */
class LoadUncertaintyTest {
    /** Linear propagation against random draws of the whole curve. Source: JCGM 101:2008. */
    @Test
    void uncertaintiesAgreeWithRandomDraws() {
        Complex z = new Complex(180, 90);
        PlaneCovariance covariance = new PlaneCovariance(4, 9, 2.5);
        SourceCurve source = SourceCurve.of(PlainSources.constant(1, z, covariance), 20, 20_000);
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
            for (BandValue v : PlainSources.constant(1, z, covariance).values()) {
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
            assertThat(stated[i] / CoverageFactor.NORMAL / deviation)
                    .as("result %d", i)
                    .isBetween(0.95, 1.05);
        }
        assertThat(stated[2]).isPositive();
    }

    @Test
    void whatMovesAllFrequenciesOfTheLoadCancelsInTheChange() {
        SourceCurve source = PlainSources.resistor(200);
        LoadedCurve loaded = LoadedCurve.of(source, InputImpedance.ofOhms(1000, 5));
        assertThat(loaded.worstLoss().u95()).isGreaterThan(0.05);
        assertThat(loaded.tilt().u95()).isLessThan(1e-9);
        assertThat(loaded.changes()).allSatisfy(c -> assertThat(c.u95()).isLessThan(1e-9));
    }

    /** A cause that moves all bands alike moves the loss but hardly the change; noise of each band moves both. */
    @Test
    void whatMovesAllBandsOfTheSourceCancelsInTheChange() {
        ImpedanceCurve alone = PlainSources.constant(12, new Complex(200), PlaneCovariance.circular(4));
        int n = alone.values().size();
        double[] dR = new double[n];
        Arrays.fill(dR, 4);
        SharedCause gain = SharedCause.ofOhms("gain of take 1", CauseOrigin.DRIFT, dR, new double[n]);
        CurveCovariance together = CurveCovariance.of(List.of(gain), Collections.nCopies(n, PlaneCovariance.ZERO));
        ImpedanceCurve shared = new ImpedanceCurve(alone.bands(), alone.values(), false, together);
        LoadedCurve one = LoadedCurve.of(SourceCurve.of(alone, 20, 20_000), PlainSources.ohms(1000));
        LoadedCurve other = LoadedCurve.of(SourceCurve.of(shared, 20, 20_000), PlainSources.ohms(1000));
        assertThat(other.losses().get(5).u95()).isCloseTo(one.losses().get(5).u95(), within(1e-9));
        assertThat(one.changes().get(5).u95()).isGreaterThan(one.losses().get(5).u95());
        assertThat(other.changes().get(5).u95()).isLessThan(1e-9);
    }

    /**
     * 200 Ω known by one repeat: the level's effect is 1 Ω on four degrees of freedom, and the curve states ± t(4) = 2.776 Ω
     * (JCGM 100:2008, table G.2). Into 1 kΩ the loss changes by (20/ln 10)·G/(1 + ZG) per ohm.
     */
    @Test
    void aLossIsAsUncertainAsTheCurveStates() {
        FrequencyBands bands = FrequencyBands.within(1, 900, 1100);
        BandValue value = BandValue.complex(
                bands.midband(0),
                200,
                0,
                PlaneCovariance.ofCause(1, 0),
                2.776445,
                0,
                60,
                new BandBudget(0, 1, 0, 0, 0));
        SharedCause level =
                SharedCause.ofOhms("level of take 1", CauseOrigin.DRIFT, new double[] {1}, new double[] {0});
        ImpedanceCurve alone = new ImpedanceCurve(bands, List.of(value), false);
        ImpedanceCurve across = new ImpedanceCurve(
                bands, List.of(value), false, CurveCovariance.of(List.of(level), List.of(PlaneCovariance.ZERO)));
        double expected = 2.776445 * 8.685890 / 1000 / 1.2;
        for (ImpedanceCurve curve : List.of(alone, across)) {
            PredictedValue loss = LoadedCurve.of(SourceCurve.of(curve, 900, 1100), InputImpedance.ofOhms(1000, 0))
                    .worstLoss();
            assertThat(loss.u95()).isCloseTo(expected, within(1e-5));
        }
    }

    /**
     * R and |Z| with u = 12 and 4 Ω and a correlation of −0.5, told as the ellipse of 1.96: the loss is as uncertain as
     * {@code √(gᵀCg)} of its slopes by R and |Z|, taken by differences (JCGM 100:2008, 5.2.2). Without R it would be 0.3 of it.
     */
    @Test
    void aLossHoldsWhatIsUncertainOfTheResistanceOfALevel() {
        double r = 150;
        double m = 200;
        List<Double> resistance = new ArrayList<>();
        List<Double> magnitude = new ArrayList<>();
        for (int degrees = 0; degrees < 360; degrees += 5) {
            double c = 1.959964 * Math.cos(Math.toRadians(degrees));
            double s = 1.959964 * Math.sin(Math.toRadians(degrees));
            resistance.add(r + 12 * c);
            magnitude.add(m + 4 * (-0.5 * c + Math.sqrt(0.75) * s));
        }
        FrequencyBands bands = FrequencyBands.within(1, 900, 1100);
        BandValue value = BandValue.magnitudeOnly(
                bands.midband(0),
                m,
                r,
                1.959964 * 4,
                60,
                new BandBudget(4, 0, 0, 0, 0),
                new ImpedanceOutline(resistance, magnitude));
        for (double ohm : new double[] {150, 600, 10_000}) {
            PredictedValue loss = LoadedCurve.of(
                            SourceCurve.of(new ImpedanceCurve(bands, List.of(value), false), 900, 1100),
                            InputImpedance.ofOhms(ohm, 0))
                    .worstLoss();
            double a = (lossDb(r + 0.01, m, ohm) - lossDb(r - 0.01, m, ohm)) / 0.02;
            double b = (lossDb(r, m + 0.01, ohm) - lossDb(r, m - 0.01, ohm)) / 0.02;
            double u = Math.sqrt(a * a * 144 + b * b * 16 - 2 * 0.5 * a * b * 48);
            assertThat(loss.value()).isCloseTo(lossDb(r, m, ohm), within(1e-9));
            assertThat(loss.u95()).as("%s Ω", ohm).isCloseTo(1.959964 * u, withinPercentage(0.3));
        }
    }

    private static double lossDb(double r, double m, double ohm) {
        return 10 * Math.log10(1 + 2 * r / ohm + m * m / (ohm * ohm));
    }
}
