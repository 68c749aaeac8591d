package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
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
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What was predicted against the error that the solver then makes, over sessions drawn at random. */
@Tag("statistics")
class PredictedErrorTest {
    private static final int SESSIONS = 1500;
    /** The root mean square of {@value #SESSIONS} errors is itself known to 1.8 %. */
    private static final double AGREES_PERCENT = 15;

    private static final SourceModel COIL = new MovingCoil(200, LossyInductor.ofHenries(0.005), null);
    private static final double INPUT_OHM = 3000;
    private static final double INPUT_PF = 470;

    @ParameterizedTest(name = "{0} Ω, {1} Hz, {2} s, {3} dB, drift {4}, loads ± {5} %, input ± {6} %")
    @CsvSource({
        "220:open,             1029.2, 0.5, 40, 0.0005, 0, 0",
        "220:open:220,         1029.2, 0.5, 40, 0.0005, 1, 5",
        "220:open:220,         1029.2, 0.5, 50, 0.005,  0, 0",
        "220:open:220,         1029.2, 0.5, 60, 0.0005, 1, 0",
        "100:220:680:open:100, 1029.2, 0.5, 30, 0.002,  1, 5",
        "1000:2000,            1029.2, 1,   50, 0.0005, 0, 0",
        "150:1500,             9716.3, 0.1, 30, 0.0005, 1, 10",
        "150:330:open:150,     20.535, 10,  30, 0.0005, 0, 0"
    })
    void theErrorIsWhatWasPredicted(
            String list, double hz, double seconds, double snrDb, double drift, double tolerance, double inputPercent) {
        FrequencyBands bands = FrequencyBands.within(12, hz * 0.98, hz * 1.02);
        assertThat(bands.size()).isEqualTo(1);
        List<Load> stated = loads(list, tolerance);
        InputImpedance input = InputImpedance.ofOhms(INPUT_OHM, inputPercent, INPUT_PF, inputPercent);
        LoadedTakes takes = new LoadedTakes(stated, input);
        Priors priors = new Priors(drift, 0);
        double ratio = Math.pow(10, snrDb / 10);
        PredictedBand predicted = new UncertaintyPredictor(new ExpectedSession(bands, COIL, ratio, seconds), priors)
                .predict(takes)
                .worst();
        double u = predicted.covariance().modulusUncertainty(predicted.resistanceOhm(), predicted.reactanceOhm());

        Complex z = COIL.impedance(bands.midband(0));
        double loss = input.admittance(hz).multiply(z).add(1).abs();
        double variance = 1 / (loss * loss * ratio);
        double[] bins = IntStream.rangeClosed(
                        (int) Math.ceil(0.95 * hz * seconds), (int) Math.floor(1.05 * hz * seconds))
                .mapToDouble(i -> i / seconds)
                .toArray();
        CoherentSolver solver = new CoherentSolver(bands, priors);
        double square = 0;
        for (long seed = 0; seed < SESSIONS; seed++) {
            Random random = CircuitBins.seeded(seed);
            LoadedTakes actual = drawn(stated, tolerance, inputPercent, random);
            CircuitBins session = CircuitBins.of(COIL, actual, variance);
            for (int k = 0; k < takes.size(); k++) {
                session = session.withGain(k, Math.exp(drift * random.nextGaussian()));
            }
            BandValue value =
                    solver.solve(session.noisy(random, bins), takes).values().get(0);
            assertThat(value.isMeasured()).isTrue();
            square += Math.pow(value.magnitudeOhm() - z.abs(), 2) / SESSIONS;
        }
        assertThat(Math.sqrt(square))
                .as("error in ohms, seeds 0 to %d", SESSIONS - 1)
                .isCloseTo(u, withinPercentage(AGREES_PERCENT));
    }

    private static List<Load> loads(String list, double tolerance) {
        return Stream.of(list.split(":"))
                .map(text -> text.equals("open") ? Load.open() : Load.ofOhms(Double.parseDouble(text), tolerance))
                .toList();
    }

    /** Resistors and input within their tolerances; a repeated resistor is the same one. */
    private static LoadedTakes drawn(List<Load> stated, double tolerance, double inputPercent, Random random) {
        Map<Double, Load> resistors = new HashMap<>();
        List<Load> out = new ArrayList<>();
        for (Load load : stated) {
            double factor = 1 + tolerance / 100 * (2 * random.nextDouble() - 1);
            resistors.putIfAbsent(load.ohm(), load.isOpen() ? load : Load.ofOhms(load.ohm() * factor, 0));
            out.add(resistors.get(load.ohm()));
        }
        double ohm = INPUT_OHM * (1 + inputPercent / 100 * (2 * random.nextDouble() - 1));
        double pf = INPUT_PF * (1 + inputPercent / 100 * (2 * random.nextDouble() - 1));
        return new LoadedTakes(out, InputImpedance.ofOhms(ohm, 0, pf, 0));
    }
}
