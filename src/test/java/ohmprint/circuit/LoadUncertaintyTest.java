package ohmprint.circuit;

import static org.assertj.core.api.Assertions.assertThat;
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
import ohmprint.curve.SharedCause;
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
            assertThat(stated[i] / PredictedValue.COVERAGE / deviation)
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
}
