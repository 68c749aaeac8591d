package ohmprint.estimate;

import static org.assertj.core.api.Assertions.assertThat;

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
    /** A circular lag comes in steps of two samples. */
    private static final int LAG_STEP = 1;

    private static final double[] SWEEP =
            ExponentialSweep.ofBand(20, 20_000, 3, -12, BenchTakes.RATE).samples();

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

    static BinObservations observed(BenchTakes bench, double[] stimulus, double fromHz, double toHz)
            throws IOException {
        StimulusObserver observer = new StimulusObserver(stimulus, BenchTakes.RATE, fromHz, toHz);
        WholeTakes whole = WholeTakes.of(bench.takes(), BenchTakes.RATE, observer.length());
        Alignment alignment = whole.align(0);
        CircularLag found = observer.locate(whole, 0);
        assertThat(found.prominence()).isGreaterThan(LagSearch.SIGNIFICANT);
        long first = found.nearest(bench.takes().get(0).soundStart());
        long[] starts = new long[bench.takes().size()];
        for (int k = 0; k < starts.length; k++) {
            starts[k] = first + alignment.lags()[k];
            long expected = bench.start(k) - bench.start(0);
            assertThat(starts[k] - starts[0]).isBetween(expected - LAG_STEP, expected + LAG_STEP);
        }
        BinObservations bins = observer.observe(whole, starts);
        return bins.advanced(
                TimingCheck.of(bins, 0, BenchTakes.RATE, fromHz, toHz).seconds());
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
