package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.SourceModel;
import ohmprint.circuit.SourceModel.CapacitorCoupled;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.circuit.SourceModel.Resonance;
import ohmprint.circuit.SourceModel.RibbonTransformer;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * What every coherent route has to reach on takes of an invented bench: errors of |Z| and phase over a curve in twelfths of
 * an octave, and stated intervals that hold the truth. A failure names circuit and seed.
 */
abstract class CoherentRouteContract {
    static final InputImpedance INPUT = InputImpedance.ofOhms(3000, 0, 470, 0);
    /** Cells that bins are summed into before the fit: 24 within a band. */
    private static final int CELLS_PER_OCTAVE = 288;

    private static final double TIMING_FROM_HZ = 60;
    private static final double TIMING_TO_HZ = 15_000;
    /** Standard uncertainty of what remains between takes on one clock, seconds. */
    private static final double ONE_CLOCK = 1e-9;
    /** The takes are recorded at exactly one gain; this leaves room for what the finite gate and blocks cost. */
    private static final double GAIN_SD = 3e-5;

    private static final double LEAST_NOISE_SCALE = 0.8;
    private static final double LEAST_COVERAGE = 0.9;
    /** Stated 95 % intervals may not be wider than this many times the 95th percentile of the actual errors. */
    private static final double WIDEST = 3;

    /** Resistors of the takes, ohms. */
    abstract double[] loads();

    /** Records the takes of a session. */
    abstract void record(BenchTakes bench, int takes, long seed);

    /** What the route sees in them. */
    abstract BinObservations observe(BenchTakes bench, double fromHz, double toHz) throws IOException;

    /** Largest median of the relative error of |Z| over the bands. */
    abstract double medianError();

    /** Largest 95th percentile of the relative error of |Z| over the bands. */
    abstract double highError();

    /** Largest 95th percentile of the phase error, degrees. */
    abstract double highPhaseError();

    /** Least median of observed over stated noise variance: how much too cautious the route's statement may be. */
    double leastNoiseScale() {
        return LEAST_NOISE_SCALE;
    }

    /** Range of the bands in hertz. */
    double[] range() {
        return new double[] {30, 18_000};
    }

    @ParameterizedTest(name = "{0}, seed {1}")
    @CsvSource({"coil, 1", "coil, 2", "ribbon, 3", "ribbon, 4", "capacitor, 5", "capacitor, 6"})
    void recoversTheCurveAndStatesItsUncertainty(String name, long seed) throws IOException {
        SourceModel source = circuit(name);
        LoadedTakes takes = CircuitBins.resistors(INPUT, loads());
        BenchTakes bench = new BenchTakes(source, takes, seed);
        record(bench, takes.size(), seed);
        FrequencyBands bands = FrequencyBands.within(12, range()[0], range()[1]);
        BinObservations obs = observe(bench, range()[0] / 1.2, Math.min(19_500, range()[1] * 1.1));
        CoherentSolver solver = new CoherentSolver(bands, new Priors(GAIN_SD, ONE_CLOCK));
        CurveEstimate estimate = solver.solve(obs.merged(CELLS_PER_OCTAVE), takes);
        List<BandValue> values = estimate.values();
        double[] magnitude = new double[values.size()];
        double[] phase = new double[values.size()];
        int inside = 0;
        for (int b = 0; b < magnitude.length; b++) {
            BandValue v = values.get(b);
            assertThat(v.isMeasured())
                    .as("band at %s Hz is measured", v.frequencyHz())
                    .isTrue();
            Complex z = source.impedance(v.frequencyHz());
            magnitude[b] = Math.abs(v.magnitudeOhm() / z.abs() - 1);
            phase[b] = Math.abs(v.phaseDeg() - Math.toDegrees(z.getArgument()));
            inside += Math.abs(v.magnitudeOhm() - z.abs()) <= v.magnitudeU95Ohm() ? 1 : 0;
        }
        double[] width = values.stream()
                .mapToDouble(v -> v.magnitudeU95Ohm() / v.magnitudeOhm())
                .toArray();
        assertThat(percentile(estimate.noiseScale(), 0.5))
                .as("median of observed over stated noise variance")
                .isBetween(leastNoiseScale(), 1 / LEAST_NOISE_SCALE);
        assertThat(percentile(magnitude, 0.5)).as("median error of |Z|").isLessThan(medianError());
        assertThat(percentile(magnitude, 0.95))
                .as("95th percentile of |Z| error")
                .isLessThan(highError());
        assertThat(percentile(phase, 0.95)).as("95th percentile of phase error").isLessThan(highPhaseError());
        assertThat((double) inside / magnitude.length)
                .as("share of bands that hold the truth")
                .isGreaterThanOrEqualTo(LEAST_COVERAGE);
        assertThat(percentile(width, 0.5))
                .as("median of the stated relative uncertainty of |Z|")
                .isLessThan(WIDEST * percentile(magnitude, 0.95));
    }

    /** Takes out the whole samples that the alignment left, and nothing else: all takes are on one clock. */
    static BinObservations timed(BinObservations obs, int pivot) {
        TimingCheck timing = TimingCheck.of(obs, pivot, BenchTakes.RATE, TIMING_FROM_HZ, TIMING_TO_HZ, true);
        for (int k = 0; k < obs.takes(); k++) {
            assertThat(timing.isFraction(k))
                    .as("take %d on a fraction of a sample", k)
                    .isFalse();
        }
        return obs.advanced(timing.seconds());
    }

    private static SourceModel circuit(String name) {
        return switch (name) {
            case "coil" ->
                new MovingCoil(200, LossyInductor.ofHenries(0.001), new Resonance(100, 0.106103295, 10.6103295e-6));
            case "ribbon" -> new RibbonTransformer(0.001, 1.369, 0.99999, 0.2, 20, 10e-6, 0, null);
            case "capacitor" -> new CapacitorCoupled(75, 20e-6);
            default -> throw new IllegalArgumentException(name);
        };
    }

    private static double percentile(double[] values, double share) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return sorted[(int) Math.min(sorted.length - 1, Math.round(share * sorted.length))];
    }
}
