package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.dsp.Noise;
import ohmprint.dsp.PhaseTransform.CircularLag;
import ohmprint.dsp.PhaseTransform.LagSearch;
import ohmprint.impedance.BandValue;
import ohmprint.impedance.FrequencyBands;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The stimulus route on a sweep that is known to it. */
@Tag("slow")
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
        TakeSpectra whole = TakeSpectra.of(bench.takes(), BenchTakes.RATE, stimulus.length);
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

    /**
     * Two takes of one sound through one load differ by their noise alone, whose density is known: the mean square of the
     * difference over the sum of the stated variances is 1, whatever was played. Some 3 000 bins know that to 2 %.
     */
    @Test
    void theStatedNoiseOfASweepIsThatOfTheTakes() throws IOException {
        assertThat(differenceOverStatedNoise(SWEEP, 400, 4000, 31)).isCloseTo(1, within(0.04));
    }

    /** As above; noise has notches in its spectrum, by which the division multiplies what the take holds of its own. */
    @Test
    void theStatedNoiseOfANoiseFileIsThatOfTheTakes() throws IOException {
        double[] noise = Noise.whiteGaussian((int) (6 * BenchTakes.RATE), 0.1, 32);
        assertThat(differenceOverStatedNoise(noise, 400, 4000, 33)).isCloseTo(1, within(0.06));
    }

    /** As above for the longer gate of the low end, whose bins a few draws know to 4 %. */
    @Test
    void theStatedNoiseOfTheLowEndIsThatOfTheTakes() throws IOException {
        double[] noise = Noise.whiteGaussian((int) (6 * BenchTakes.RATE), 0.1, 34);
        double ofSweep = 0;
        double ofNoise = 0;
        for (int draw = 0; draw < 3; draw++) {
            ofSweep += differenceOverStatedNoise(SWEEP, 40, 240, 35 + draw) / 3;
            ofNoise += differenceOverStatedNoise(noise, 40, 240, 45 + draw) / 3;
        }
        assertThat(ofSweep).isCloseTo(1, within(0.08));
        assertThat(ofNoise).isCloseTo(1, within(0.08));
    }

    private double differenceOverStatedNoise(double[] sound, double fromHz, double toHz, long seed) throws IOException {
        LoadedTakes takes = CircuitBins.resistors(INPUT, 1000, 1000);
        BenchTakes bench = new BenchTakes(CircuitBins.constant(200, 0), takes, seed);
        double[] withDecay = Arrays.copyOf(sound, sound.length + (int) (2 * BenchTakes.RATE));
        bench.record(withDecay, 1);
        bench.record(withDecay, 1);
        StimulusObserver observer = new StimulusObserver(sound, BenchTakes.RATE, fromHz, toHz);
        TakeSpectra whole = TakeSpectra.of(bench.takes(), BenchTakes.RATE, sound.length);
        BinObservations obs = observer.observe(whole, new long[] {bench.start(0), bench.start(1)})
                .bins();
        double sum = 0;
        for (int i = 0; i < obs.size(); i++) {
            double square = obs.re(i, 0, 0) + obs.re(i, 1, 1) - 2 * obs.re(i, 0, 1);
            sum += square / (obs.noise(i, 0) + obs.noise(i, 1));
        }
        return sum / obs.size();
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
