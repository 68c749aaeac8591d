package ohmprint.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.List;
import ohmprint.curve.BandValue;
import ohmprint.curve.FrequencyBands;
import ohmprint.signal.CircularLag;
import ohmprint.signal.ExponentialSweep;
import ohmprint.signal.LagSearch;
import ohmprint.signal.Noise;
import org.junit.jupiter.api.Test;

/** The stimulus route on a sweep that is known to it. */
class StimulusObserverTest extends CoherentRouteContract {
    private static final double[] SWEEP =
            ExponentialSweep.ofBand(20, 20_000, 3, -12, BenchTakes.RATE).samples();

    /** The correlation comes in steps of two samples, and the divider moves its peak a little. */
    private static final long STEP = 2;

    @Override
    double[] loads() {
        return new double[] {150, 1500};
    }

    @Override
    void record(BenchTakes bench, int takes, long seed) {
        for (int k = 0; k < takes; k++) {
            bench.record(SWEEP, 1);
        }
    }

    @Override
    BinObservations observe(BenchTakes bench, double fromHz, double toHz) throws IOException {
        return observed(bench, SWEEP, fromHz, toHz);
    }

    private static BinObservations observed(BenchTakes bench, double[] stimulus, double fromHz, double toHz)
            throws IOException {
        StimulusObserver observer = new StimulusObserver(stimulus, BenchTakes.RATE, fromHz, toHz);
        assertThat(observer.length()).isEqualTo(stimulus.length);
        WholeTakes whole = WholeTakes.of(bench.takes(), BenchTakes.RATE, stimulus.length);
        long[] starts = new long[whole.size()];
        for (int k = 0; k < starts.length; k++) {
            CircularLag found = observer.locate(whole, k);
            assertThat(found.prominence()).isGreaterThan(LagSearch.SIGNIFICANT);
            starts[k] = found.nearest(bench.takes().get(k).soundStart());
            assertThat(starts[k]).isCloseTo(bench.start(k) + BenchTakes.PATH_FRAMES, within(STEP));
        }
        return timed(observer.observe(whole, starts).bins(), starts.length - 1);
    }

    @Override
    double medianError() {
        return 0.001;
    }

    @Override
    double highError() {
        return 0.008;
    }

    @Override
    double highPhaseError() {
        return 0.6;
    }

    @Test
    void recordedNoiseAsAStimulusServesToo() throws IOException {
        double[] noise = Noise.pink((int) (4 * BenchTakes.RATE), 0.1, BenchTakes.RATE, 77);
        LoadedTakes takes = CircuitBins.resistors(INPUT, loads());
        BenchTakes bench = new BenchTakes(CircuitBins.constant(200, 0), takes, 77);
        bench.record(noise, 1);
        bench.record(noise, 1);
        BinObservations obs = observed(bench, noise, 100, 10_000);
        List<BandValue> values = new CoherentSolver(FrequencyBands.within(3, 125, 8000), new Priors(1e-4, 1e-9))
                .solve(obs, takes)
                .values();
        assertThat(values)
                .allSatisfy(v -> assertThat(Math.abs(v.magnitudeOhm() / 200 - 1))
                        .as("relative error at %s Hz", v.frequencyHz())
                        .isLessThan(highError()));
    }
}
