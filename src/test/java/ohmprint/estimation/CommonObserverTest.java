package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.io.IOException;
import java.util.List;
import ohmprint.dsp.Noise;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The common-source route on noise that it does not know, the same in every take. */
@Tag("slow")
class CommonObserverTest extends CoherentRouteContract {
    private static final int FRAMES = (int) (8 * BenchTakes.RATE);
    private static final int PIVOT = 2;

    @Override
    double[] loads() {
        return new double[] {220, 680, 2200};
    }

    @Override
    void record(BenchTakes bench, int takes, long seed) {
        double[] noise = Noise.pink(FRAMES, 0.1, BenchTakes.RATE, 100 + seed);
        for (int k = 0; k < takes; k++) {
            bench.record(noise, 1);
        }
    }

    @Override
    BinObservations observe(BenchTakes bench, double fromHz, double toHz) throws IOException {
        Alignment alignment = TakeSpectra.of(bench.takes(), BenchTakes.RATE, 0).align(PIVOT);
        for (int k = 0; k < bench.takes().size(); k++) {
            assertThat(alignment.found(k)).isTrue();
        }
        return timed(new CommonObserver(fromHz, toHz).observe(bench.takes(), alignment.lags()), PIVOT);
    }

    @Override
    double medianError() {
        return 0.002;
    }

    @Override
    double highError() {
        return 0.01;
    }

    @Override
    double highPhaseError() {
        return 0.6;
    }

    @Test
    void takesThatShareNoTimeAreRefused() {
        BenchTakes bench = new BenchTakes(CircuitBins.constant(200, 0), CircuitBins.resistorsOnly(150, 1500), 1);
        double[] noise = Noise.pink(20_000, 0.1, BenchTakes.RATE, 5);
        bench.record(noise, 1);
        bench.record(noise, 1);
        List<TakeRecording> takes = bench.takes();
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new CommonObserver(50, 10_000).observe(takes, new long[] {0, 10_000_000}))
                .withMessageContaining("share no stretch of time");
    }
}
