package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.estimation.UncertaintyPredictor.ExpectedSession;
import ohmprint.estimation.UncertaintyPredictor.PredictedBand;
import ohmprint.estimation.UncertaintyPredictor.Prediction;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Predictions against the Cramér–Rao bound, closed forms, and directions that the literature on loads tells. */
class UncertaintyPredictorTest {
    private static final FrequencyBands ONE_BAND = FrequencyBands.within(3, 990, 1010);
    /** Length with which the band holds one bin. */
    private static final double ONE_BIN = 1 / (ONE_BAND.upperEdge(0) - ONE_BAND.lowerEdge(0));

    private static final double SNR = 1e6;
    private static final double OPEN = Double.POSITIVE_INFINITY;

    // Cramér–Rao bound for Z = 200 + j100 Ω, |A| = 1, σ² = 1e-6: closed form, recomputed with numpy.
    @ParameterizedTest
    @CsvSource({"150:1500, 1.2302", "100:200:500:1500, 0.9689", "1000:2000, 4.3271"})
    void noiseIsTheLeastThatIsPossible(String list, double leastSd) {
        double[] loads =
                Stream.of(list.split(":")).mapToDouble(Double::parseDouble).toArray();
        Complex z = new Complex(200, 100);
        assertThat(noise(z, loads)).isCloseTo(leastSd, within(5e-5));
        assertThat(bound(z, loads)).isCloseTo(leastSd, within(5e-5));
    }

    // d/dg of the bound for y = g/|Z| against no load at all is zero where s = 1 + g solves s³ − 2s² − 1 = 0: closed
    // form;
    // R = |Z|/(s − 1) = 0.83·|Z|.
    @Test
    void againstAnOpenReferenceTheBestLoadIs083Z() {
        double s = root(x -> x * x * x - 2 * x * x - 1, 2, 3);
        Complex z = new Complex(300, 0);
        double predicted = lowest(r -> noise(z, r, OPEN));
        assertThat(predicted / 300).isCloseTo(1 / (s - 1), within(1e-4)).isCloseTo(0.83, within(0.005));
        assertThat(lowest(r -> bound(z, r, OPEN))).isCloseTo(predicted, withinPercentage(0.01));
    }

    // 0.70·|Z| against a reference of 10·|Z|: the least of the same bound, found numerically.
    @Test
    void againstTenTimesTheImpedanceTheBestLoadIs070Z() {
        Complex z = new Complex(300, 0);
        double predicted = lowest(r -> noise(z, r, 3000));
        assertThat(predicted / 300).isCloseTo(0.70, within(0.005));
        assertThat(lowest(r -> bound(z, r, 3000))).isCloseTo(predicted, withinPercentage(0.01));
    }

    // Common experience with multi-load methods: a factor of two off the best load costs little.
    @Test
    void theOptimumIsFlat() {
        Complex z = new Complex(300, 0);
        double best = noise(z, 249, OPEN);
        assertThat(noise(z, 125, OPEN)).isBetween(best, 1.25 * best);
        assertThat(noise(z, 500, OPEN)).isBetween(best, 1.25 * best);
        assertThat(noise(z, 5000, OPEN)).isGreaterThan(5 * best);
    }

    /** Direction known from the literature on multi-load source measurement: more loads lower the error, close ones raise it. */
    @Test
    void closeLoadsRaiseTheUncertaintyAndMoreLoadsLowerIt() {
        Priors priors = new Priors(0.0005, 1e-9);
        double two = worst(priors, 1, 100, 1000);
        assertThat(worst(priors, 1, 300, 330)).isGreaterThan(5 * two);
        assertThat(worst(priors, 1, 600, 1000)).isGreaterThan(2 * two);
        double three = worst(priors, 1, 100, 300, 1000);
        double four = worst(priors, 1, 100, 200, 300, 1000);
        assertThat(three).isLessThan(two);
        assertThat(four).isLessThan(three);
    }

    @Test
    void theRepeatedFirstLoadLowersTheShareOfDrift() {
        LoadedTakes once = takes(InputImpedance.ofOhms(3000, 0), 0, 220, OPEN);
        LoadedTakes twice = takes(InputImpedance.ofOhms(3000, 0), 0, 220, OPEN, 220);
        UncertaintyPredictor predictor =
                new UncertaintyPredictor(session(hz -> new Complex(300, 0), 1e10, 10), new Priors(0.002, 0));
        double before = predictor.predict(once).worst().budget().drift();
        double after = predictor.predict(twice).worst().budget().drift();
        // The mean of two gains against one: variance 1.5 instead of 2 (closed form).
        assertThat(after / before).isCloseTo(Math.sqrt(1.5 / 2), within(1e-4));
        // Two takes: dZ/d ln r = −(Z+R_a)(Z+R_b)/(R_b−R_a), with the input in parallel (closed form).
        double a = 220 * 3000 / 3220.0;
        assertThat(before)
                .isCloseTo((300 + a) * (300 + 3000) / (3000 - a) * 0.002 * Math.sqrt(2), withinPercentage(0.01));
    }

    // dZ/Z = [(R_b+Z)·d ln R_a − …]/(R_b−R_a) → d ln R_a for R_b → ∞; tolerance 1 % is a rectangle, u = 1 %/√3, the
    // middle
    // 95 % of which reach to 0.95 %.
    @Test
    void aToleranceAgainstAnOpenReferenceIsThatOfTheResult() {
        LoadedTakes takes = takes(InputImpedance.unknown(), 1, 220, OPEN);
        PredictedBand band = new UncertaintyPredictor(session(hz -> new Complex(300, 0), 1e12, 10), new Priors(0, 0))
                .predict(takes)
                .worst();
        assertThat(band.budget().loads()).isCloseTo(300 * 0.01 / Math.sqrt(3), withinPercentage(0.01));
        assertThat(band.u95Percent()).isCloseTo(0.95, withinPercentage(0.1));
    }

    @Test
    void aLongerSoundReachesWhatIsWantedAndNoLengthBeatsTheRest() {
        Priors priors = new Priors(0.0005, 1e-9);
        LoadedTakes takes = takes(InputImpedance.ofOhms(3000, 5), 0.5, 220, OPEN, 220);
        SourceModel source = hz -> new Complex(200 + hz / 100, hz / 50);
        FrequencyBands bands = FrequencyBands.within(12, 20, 20_000);
        UncertaintyPredictor predictor = new UncertaintyPredictor(new ExpectedSession(bands, source, 1e4, 10), priors);
        Prediction now = predictor.predict(takes);
        double wanted = 0.7 * now.worst().u95Percent();
        double seconds = predictor.secondsFor(takes, wanted);
        assertThat(seconds).isGreaterThan(10);
        Prediction longer =
                new UncertaintyPredictor(new ExpectedSession(bands, source, 1e4, seconds), priors).predict(takes);
        assertThat(longer.worst().u95Percent()).isCloseTo(wanted, withinPercentage(0.01));
        assertThat(predictor.secondsFor(takes, 0.1)).isInfinite();
    }

    /** The quick answer of the search is the full prediction, or a number beyond the limit. */
    @Test
    void theShortCutAgreesWithThePrediction() {
        FrequencyBands bands = FrequencyBands.within(12, 20, 20_000);
        UncertaintyPredictor predictor = new UncertaintyPredictor(
                new ExpectedSession(bands, hz -> new Complex(200, hz / 50), 1e4, 10), new Priors(0.0005, 1e-9));
        LoadedTakes takes = takes(InputImpedance.ofOhms(3000, 5), 1, 220, OPEN);
        double worst = predictor.predict(takes).worst().u95Percent();
        assertThat(predictor.worstPercent(takes, 100)).isCloseTo(worst, withinPercentage(1e-9));
        assertThat(predictor.worstPercent(takes, 0.5 * worst)).isGreaterThan(0.5 * worst);
        assertThat(predictor.worstPercent(takes, 100)).isCloseTo(worst, withinPercentage(1e-9));
    }

    /** Each band a little worse than the one below, with the largest factor there is: none is passed over. */
    @Test
    void theShortCutFindsTheWorstBandWhereverItLies() {
        FrequencyBands bands = FrequencyBands.within(12, 20, 20_000);
        UncertaintyPredictor predictor = new UncertaintyPredictor(
                new ExpectedSession(bands, hz -> new Complex(700 - 40 * Math.log(hz), 0), 1e6, 10),
                new Priors(0.005, 4, 1e-9));
        LoadedTakes takes = takes(InputImpedance.ofOhms(3000, 0), 0, 220, OPEN, 220);
        PredictedBand worst = predictor.predict(takes).worst();
        assertThat(worst.frequencyHz()).isGreaterThan(10_000);
        assertThat(predictor.worstPercent(takes, 100)).isCloseTo(worst.u95Percent(), withinPercentage(1e-9));
    }

    private static double worst(Priors priors, double tolerance, double... ohms) {
        return new UncertaintyPredictor(session(hz -> new Complex(200, 50), 1e4, 10), priors)
                .predict(takes(InputImpedance.ofOhms(3000, 0), tolerance, ohms))
                .worst()
                .u95Percent();
    }

    /** Root of E|δZ|² as predicted for one bin, resistors alone, σ² = 1/SNR. */
    private static double noise(Complex z, double... ohms) {
        Prediction prediction = new UncertaintyPredictor(session(hz -> z, SNR, ONE_BIN), new Priors(0, 0))
                .predict(takes(InputImpedance.unknown(), 0, ohms));
        return Math.sqrt(2) * prediction.worst().budget().noise();
    }

    /** √(σ²/[Σ|h|²|q|² − |Σ|h|²q|²/Σ|h|²]) with q = y/(1 + Zy), as in the literature on the bound. */
    private static double bound(Complex z, double... ohms) {
        double hh = 0;
        double hhqq = 0;
        Complex hhq = Complex.ZERO;
        for (double ohm : ohms) {
            double y = 1 / ohm;
            Complex h = z.multiply(y).add(1).reciprocal();
            Complex q = h.multiply(y);
            double square = h.abs() * h.abs();
            hh += square;
            hhqq += square * q.abs() * q.abs();
            hhq = hhq.add(q.multiply(square));
        }
        return Math.sqrt(1 / SNR / (hhqq - hhq.abs() * hhq.abs() / hh));
    }

    private static ExpectedSession session(SourceModel source, double snr, double seconds) {
        return new ExpectedSession(ONE_BAND, source, snr, seconds);
    }

    private static LoadedTakes takes(InputImpedance input, double tolerance, double... ohms) {
        List<Load> loads = new ArrayList<>();
        DoubleStream.of(ohms)
                .forEach(ohm -> loads.add(Double.isInfinite(ohm) ? Load.open() : Load.ofOhms(ohm, tolerance)));
        return new LoadedTakes(loads, input);
    }

    private static double lowest(DoubleUnaryOperator f) {
        double low = 30;
        double high = 2000;
        double golden = (Math.sqrt(5) - 1) / 2;
        for (int step = 0; step < 60; step++) {
            double[] at = {high - golden * (high - low), low + golden * (high - low)};
            double[] value = Arrays.stream(at).map(f).toArray();
            if (value[0] < value[1]) {
                high = at[1];
            } else {
                low = at[0];
            }
        }
        return (low + high) / 2;
    }

    private static double root(DoubleUnaryOperator f, double low, double high) {
        double a = low;
        double b = high;
        for (int step = 0; step < 80; step++) {
            double mid = (a + b) / 2;
            if (f.applyAsDouble(mid) > 0) {
                b = mid;
            } else {
                a = mid;
            }
        }
        return a;
    }
}
