package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import ohmprint.circuit.SourceModel.LossyInductor;
import ohmprint.circuit.SourceModel.MovingCoil;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import ohmprint.dsp.PhaseTransform.LagSearch;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class AlignmentTest {
    private static final LoadedTakes TAKES = CircuitBins.resistorsOnly(150, 1500, 470);
    private static final double[] SWEEP =
            ExponentialSweep.ofBand(20, 18_000, 1.5, -12, BenchTakes.RATE).samples();

    @ParameterizedTest
    @ValueSource(ints = {0, 1, 2})
    void findsTheWholeSampleLagOfASweepBehindAnInductiveSource(int pivot) throws IOException {
        BenchTakes bench = new BenchTakes(new MovingCoil(200, LossyInductor.ofHenries(0.002), null), TAKES, 31 + pivot);
        for (int k = 0; k < 3; k++) {
            bench.record(SWEEP, 1);
        }
        Alignment alignment = Alignment.of(bench.takes(), pivot);
        for (int k = 0; k < 3; k++) {
            assertThat(alignment.lags()[k]).as("take %d", k).isEqualTo(bench.start(k) - bench.start(pivot));
            assertThat(alignment.found(k)).isTrue();
        }
        assertThat(alignment.prominence()[pivot]).isInfinite();
    }

    @ParameterizedTest
    @ValueSource(longs = {41, 42, 43, 44, 45})
    void doesNotFindOtherNoise(long seed) throws IOException {
        BenchTakes bench = new BenchTakes(CircuitBins.constant(200, 0), TAKES, seed);
        for (int k = 0; k < 3; k++) {
            bench.record(Noise.pink((int) (2 * BenchTakes.RATE), 0.1, BenchTakes.RATE, 10 * seed + k), 1);
        }
        Alignment alignment = Alignment.of(bench.takes(), 1);
        assertThat(alignment.found(0)).as("seed %d", seed).isFalse();
        assertThat(alignment.found(1)).isTrue();
        assertThat(alignment.found(2)).as("seed %d", seed).isFalse();
        assertThat(alignment.prominence()[0]).isLessThan(LagSearch.SIGNIFICANT);
    }

    @Test
    void keepsItsOwnCopiesOfTheArrays() {
        long[] lags = {0, 5};
        double[] prominence = {1, 20};
        Alignment alignment = new Alignment(0, lags, prominence);
        lags[1] = 7;
        prominence[1] = 3;
        assertThat(alignment.lags()).containsExactly(0, 5);
        assertThat(alignment.found(1)).isTrue();
    }
}
