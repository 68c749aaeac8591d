package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.estimation.UncertaintyPredictor.ExpectedSession;
import ohmprint.estimation.UncertaintyPredictor.PredictedBand;
import ohmprint.estimation.UncertaintyPredictor.Prediction;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The uncertainty that is foretold against the one that is then stated, over sessions drawn at random. */
@Tag("slow")
class ForetoldStatementTest {
    private static final int SESSIONS = 16;
    /** Bins lie half a hertz apart: the lowest band holds 47. */
    private static final double SECONDS = 2;

    /** The mean of 16 stated uncertainties whose noise rests on 45 observations or more scatters by 2 %. */
    private static final double EACH_AGREES_PERCENT = 6;

    private static final double ALL_AGREE_PERCENT = 3;
    private static final FrequencyBands BANDS = FrequencyBands.within(12, 400, 2500);
    private static final SourceModel COIL = new MovingCoil(200, LossyInductor.ofHenries(0.005), null);

    /** Freedom is that of what is believed of the gains; the factors are u95 over u, what each case is chosen for. */
    @ParameterizedTest(name = "{0} Ω, {1} dB, drift {2} on {3}, loads ± {4} %, input ± {5} %")
    @CsvSource({
        "220:open,             60, 0.00005, Infinity, 1,   0,   1.64, 1.72",
        "220:2200,             60, 0.00005, Infinity, 1,   5,   1.70, 1.95",
        "150:330:open,         60, 0.00005, Infinity, 1,   0,   1.64, 1.96",
        "150:1500,             60, 0.005,   Infinity, 0,   0,   1.95, 1.97",
        "220:open:220,         60, 0.005,   4,        0,   0,   2.70, 2.78",
        "220:open:220,         50, 0.001,   4,        0.2, 0.5, 2.10, 2.70",
        "100:220:open:100,     60, 0.002,   4,        0.1, 0.1, 2.00, 2.78",
        "220:open,             20, 0.00005, Infinity, 0,   0,   1.96, 2.00",
        "100:220:680:open,     20, 0.0005,  Infinity, 0.1, 0.1, 1.95, 2.00"
    })
    void theStatementIsWhatWasForetold(
            String list,
            double snrDb,
            double drift,
            double freedom,
            double tolerance,
            double inputPercent,
            double leastFactor,
            double mostFactor) {
        InputImpedance input = InputImpedance.ofOhms(3000, inputPercent, 470, inputPercent);
        LoadedTakes takes = new LoadedTakes(loads(list, tolerance), input);
        Priors priors = new Priors(drift, freedom, 1e-9);
        double ratio = Math.pow(10, snrDb / 10);
        Prediction foretold =
                new UncertaintyPredictor(new ExpectedSession(BANDS, COIL, ratio, SECONDS), priors).predict(takes);
        double[] square = new double[BANDS.size()];
        for (long seed = 0; seed < SESSIONS; seed++) {
            List<BandValue> stated = stated(takes, priors, ratio, CircuitBins.seeded(seed));
            for (int b = 0; b < square.length; b++) {
                square[b] += Math.pow(stated.get(b).magnitudeU95Ohm(), 2) / SESSIONS;
            }
        }
        double mean = 0;
        for (int b = 0; b < square.length; b++) {
            PredictedBand band = foretold.bands().get(b);
            assertThat(band.u95Ohm())
                    .as("%.0f Hz, seeds 0 to %d", band.frequencyHz(), SESSIONS - 1)
                    .isCloseTo(Math.sqrt(square[b]), withinPercentage(EACH_AGREES_PERCENT));
            mean += band.u95Ohm() / Math.sqrt(square[b]) / square.length;
            double u = band.covariance().modulusUncertainty(band.resistanceOhm(), band.reactanceOhm());
            assertThat(band.u95Ohm() / u).isBetween(leastFactor, mostFactor);
        }
        assertThat(mean).as("foretold over stated").isCloseTo(1, withinPercentage(ALL_AGREE_PERCENT));
    }

    /** Every band with noise of its own: with a tenth of the signal the noise is √10 times as large (closed form). */
    @Test
    void eachBandHasItsOwnNoise() {
        LoadedTakes takes = CircuitBins.resistorsOnly(150, 1500);
        Priors priors = new Priors(0, 0);
        ExpectedSession even = new ExpectedSession(BANDS, COIL, 1e4, SECONDS);
        ExpectedSession other = new ExpectedSession(BANDS, COIL, b -> b == 3 ? 0 : b == 5 ? 1e3 : 1e4, SECONDS);
        List<PredictedBand> before =
                new UncertaintyPredictor(even, priors).predict(takes).bands();
        List<PredictedBand> after =
                new UncertaintyPredictor(other, priors).predict(takes).bands();
        assertThat(after.get(3).u95Percent()).isInfinite();
        assertThat(after.get(4)).isEqualTo(before.get(4));
        assertThat(after.get(5).budget().noise() / before.get(5).budget().noise())
                .isCloseTo(Math.sqrt(10), within(1e-9));
    }

    private static List<BandValue> stated(LoadedTakes takes, Priors priors, double ratio, Random random) {
        double[] hz =
                IntStream.rangeClosed(720, 5600).mapToDouble(i -> i / SECONDS).toArray();
        // The noise of all bins is that of a take without a resistor at 1 kHz; it changes little over the bands.
        double loss = takes.input()
                .admittance(1000)
                .multiply(COIL.impedance(1000))
                .add(1)
                .abs();
        CircuitBins session = CircuitBins.of(COIL, takes, 1 / (loss * loss * ratio));
        for (int k = 0; k < takes.size(); k++) {
            session = session.withGain(k, Math.exp(priors.gain() * random.nextGaussian()));
        }
        return new CoherentSolver(BANDS, priors)
                .solve(session.noisy(random, hz), takes)
                .values();
    }

    private static List<Load> loads(String list, double tolerance) {
        return Stream.of(list.split(":"))
                .map(text -> text.equals("open") ? Load.open() : Load.ofOhms(Double.parseDouble(text), tolerance))
                .toList();
    }
}
