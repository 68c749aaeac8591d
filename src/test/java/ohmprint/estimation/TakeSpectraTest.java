package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TakeSpectraTest {
    private static final LoadedTakes TAKES = CircuitBins.resistorsOnly(150, 1500, 470);
    private static final double[] SWEEP =
            ExponentialSweep.ofBand(20, 18_000, 1.5, -12, BenchTakes.RATE).samples();
    /** Steps of the correlation in samples. */
    private static final long STEP = 2;

    @ParameterizedTest
    @ValueSource(ints = {0, 1, 2})
    void alignsSweepsBehindAnInductiveSourceToItsStep(int pivot) throws IOException {
        BenchTakes bench = new BenchTakes(new MovingCoil(200, LossyInductor.ofHenries(0.002), null), TAKES, 31 + pivot);
        for (int k = 0; k < 3; k++) {
            bench.record(SWEEP, 1);
        }
        TakeSpectra whole = TakeSpectra.of(bench.takes(), BenchTakes.RATE, 0);
        assertThat(whole.size()).isEqualTo(3);
        Alignment alignment = whole.align(pivot);
        for (int k = 0; k < 3; k++) {
            assertThat(alignment.lags()[k])
                    .as("take %d", k)
                    .isCloseTo(bench.start(k) - bench.start(pivot), within(STEP));
            assertThat(alignment.found(k)).isTrue();
        }
        Alignment two = whole.only(new int[] {2, 0}).align(0);
        assertThat(two.lags()[1]).isCloseTo(bench.start(0) - bench.start(2), within(STEP));
    }

    @ParameterizedTest
    @ValueSource(longs = {41, 42, 43, 44, 45})
    void doesNotFindOtherNoise(long seed) throws IOException {
        BenchTakes bench = new BenchTakes(CircuitBins.constant(200, 0), TAKES, seed);
        for (int k = 0; k < 3; k++) {
            bench.record(Noise.pink((int) (2 * BenchTakes.RATE), 0.1, BenchTakes.RATE, 10 * seed + k), 1);
        }
        Alignment alignment = TakeSpectra.of(bench.takes(), BenchTakes.RATE, 0).align(1);
        assertThat(alignment.found(0)).as("seed %d", seed).isFalse();
        assertThat(alignment.found(1)).isTrue();
        assertThat(alignment.found(2)).as("seed %d", seed).isFalse();
    }
}
