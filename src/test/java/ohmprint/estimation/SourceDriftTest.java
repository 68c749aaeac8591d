package ohmprint.estimation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.SourceModel;
import ohmprint.dsp.ExponentialSweep;
import ohmprint.impedance.FrequencyBands;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SourceDriftTest {
    private static final double[] HZ = CircuitBins.frequencies(100, 10_000, 2000);
    /** A reference microphone: its sound does not depend on the load, so that all takes are alike but for the source. */
    private static final LoadedTakes REFERENCE = CircuitBins.resistorsOnly(1000, 1000, 1000);

    private static final SourceModel ROOM = hz -> new Complex(900 * Math.pow(Math.sin(hz / 30), 2), 0);

    @Test
    void readsLevelChangesInDecibelsAgainstTheFirstTake() {
        BinObservations obs =
                bins(0).withGain(1, gain(0.2)).withGain(2, gain(-0.1)).exact(HZ);
        for (int pivot = 0; pivot < 3; pivot++) {
            SourceDrift drift = SourceDrift.of(obs, pivot);
            assertThat(drift.driftDb()).containsExactly(new double[] {0, 0.2, -0.1}, within(1e-9));
            for (int i = 0; i < HZ.length; i += 50) {
                assertThat(drift.gainRe()[pivot][i]).isCloseTo(1, within(1e-12));
                assertThat(drift.gainIm()[pivot][i]).isCloseTo(0, within(1e-12));
            }
        }
    }

    @Test
    void dividingByTheGainTakesTheDriftOutOfTheMicrophone() {
        LoadedTakes takes = CircuitBins.resistorsOnly(150, 1500, 150);
        BinObservations reference =
                bins(0).withGain(1, gain(0.2)).withDelay(2, 1e-6).exact(HZ);
        CircuitBins microphone = CircuitBins.of(CircuitBins.constant(200, 80), takes, 1e-6);
        SourceDrift drift = SourceDrift.of(reference, 0);
        BinObservations corrected = microphone
                .withGain(1, gain(0.2))
                .withDelay(2, 1e-6)
                .exact(HZ)
                .dividedBy(drift.gainRe(), drift.gainIm());
        BinObservations still = microphone.exact(HZ);
        int i = still.firstAtOrAbove(1000);
        assertThat(corrected.re(i, 1, 0)).isCloseTo(still.re(i, 1, 0), within(1e-9));
        assertThat(corrected.im(i, 2, 0)).isCloseTo(still.im(i, 2, 0), within(1e-5));
    }

    @Test
    void noiseOfTheReferenceAveragesOut() {
        BinObservations obs = bins(1e-4).withGain(1, gain(0.15)).noisy(CircuitBins.seeded(8), HZ);
        assertThat(SourceDrift.of(obs, 0).driftDb()[1]).isCloseTo(0.15, within(0.01));
    }

    /**
     * One source at one level, heard at 20 dB and at 10 dB SNR by a flat reference: 0 dB. The pivot's noise in the denominator would
     * read −20·log₁₀(1 + 1/SNR): −0.086 and −0.83 dB (closed form).
     */
    @ParameterizedTest
    @ValueSource(doubles = {20, 10})
    void noiseOfTheReferenceDoesNotLowerTheGain(double snrDb) {
        double variance = Math.pow(10, -snrDb / 10);
        BinObservations obs = CircuitBins.of(
                        CircuitBins.constant(0, 0), CircuitBins.resistorsOnly(1000, 1000), variance)
                .noisy(CircuitBins.seeded(12), HZ);
        // Real parts of two noises over all bins, relative; four times that.
        double allowed = 4 * 20 / Math.log(10) * Math.sqrt((variance + variance * variance) / HZ.length);
        assertThat(SourceDrift.of(obs, 0).driftDb()[1]).isCloseTo(0, within(allowed));
        assertThat(SourceDrift.of(obs.merged(48), 0).driftDb()[1]).isCloseTo(0, within(allowed));
    }

    /** Above 3 kHz the reference hears nothing but noise: what holds no sound does not decide what the others show. */
    @Test
    void octavesOfNoiseAloneTellNothing() {
        BinObservations obs = CircuitBins.of(
                        hz -> new Complex(hz < 3000 ? 0 : 1e9, 0), CircuitBins.resistorsOnly(1000, 1000), 1e-3)
                .withGain(1, gain(0.2))
                .noisy(CircuitBins.seeded(13), HZ);
        SourceDrift drift = SourceDrift.of(obs, 0);
        assertThat(drift.driftDb()[1]).isCloseTo(0.2, within(0.03));
        for (int i = 0; i < HZ.length; i++) {
            assertThat(drift.gainRe()[1][i]).as("at %s Hz", HZ[i]).isCloseTo(gain(0.2), within(0.004));
        }
    }

    /**
     * A reference channel 20 dB noisier and one 20 dB quieter than the microphone's, the same level in all takes: its own noise
     * says that one gain explains the octaves, and then the gain is one number. Judged by the microphone's noise the first would
     * be taken for a gain that depends on frequency.
     */
    @ParameterizedTest
    @ValueSource(doubles = {2e-3, 2e-4, 2e-5})
    void theReferenceChannelIsJudgedByItsOwnNoise(double monitorNoise) throws IOException {
        double[] noise = ohmprint.dsp.Noise.pink((int) (3 * BenchTakes.RATE), 0.02, BenchTakes.RATE, 31);
        BenchTakes bench = new BenchTakes(CircuitBins.constant(200, 0), CircuitBins.resistorsOnly(220, 2200), 32)
                .monitorNoise(monitorNoise);
        bench.record(noise, 1);
        bench.record(noise, 1);
        List<TakeRecording> references =
                bench.takes().stream().map(TakeRecording::throughReference).toList();
        long[] lags = TakeSpectra.of(bench.takes(), BenchTakes.RATE, 0).align(0).lags();
        SourceDrift drift = SourceDrift.of(new CommonObserver(40, 19_000).observe(references, lags), 0);
        double[] size = new double[drift.gainRe()[1].length];
        Arrays.setAll(size, i -> Math.hypot(drift.gainRe()[1][i], drift.gainIm()[1][i]));
        assertThat(Arrays.stream(size).max().orElseThrow()
                        - Arrays.stream(size).min().orElseThrow())
                .as("spread of the gain")
                .isLessThan(1e-9);
        assertThat(size[0]).isCloseTo(1, within(10 * monitorNoise));
    }

    /** Few bins lie in a low octave, so its own ratio is uncertain; one level holds for all, and all octaves tell it. */
    @Test
    void oneLevelIsTheSameInAllBinsWhateverTheNoiseOfALowOctave() {
        double[] hz = CircuitBins.frequencies(50, 10_000, 2000);
        BinObservations obs = bins(1e-4).withGain(1, gain(0.15)).noisy(CircuitBins.seeded(8), hz);
        double[] re = SourceDrift.of(obs, 0).gainRe()[1];
        assertThat(re[0]).isCloseTo(re[re.length - 1], within(1e-6));
        assertThat(re[0]).isCloseTo(gain(0.15), within(1e-3));
    }

    /** As when the microphone was moved: no single level explains the octaves, so each is taken as it is. */
    @Test
    void aChangeThatDependsOnFrequencyIsFollowed() {
        BinObservations obs = bins(1e-8).noisy(CircuitBins.seeded(9), HZ);
        double[][] re = new double[3][HZ.length];
        double[][] im = new double[3][HZ.length];
        for (double[] row : re) {
            Arrays.fill(row, 1);
        }
        for (int i = 0; i < HZ.length; i++) {
            re[1][i] = 1 / changed(HZ[i]);
        }
        double[] seen = SourceDrift.of(obs.dividedBy(re, im), 0).gainRe()[1];
        for (double hz : new double[] {200, 500, 1000, 3000, 7000}) {
            assertThat(seen[obs.firstAtOrAbove(hz)]).as("at %s Hz", hz).isCloseTo(changed(hz), within(2e-3));
        }
    }

    /** A level that rises by two per cent from 100 Hz to 10 kHz. */
    private static double changed(double hz) {
        return 1 + 0.01 * Math.log10(hz / 100);
    }

    /** The whole-sample delay that the alignment left has to leave the reference channels too, before the drift is read. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void driftOfASharedSoundIsTakenOutOnceBothChannelsAreOnTime(long seed) throws IOException {
        double[] sweep =
                ExponentialSweep.ofBand(20, 20_000, 2, -12, BenchTakes.RATE).samples();
        LoadedTakes takes = CircuitBins.resistors(InputImpedance.ofOhms(3000, 0, 470, 0), 220, 680, 2200);
        BenchTakes bench = new BenchTakes(CircuitBins.constant(200, 0), takes, seed);
        for (int k = 0; k < 3; k++) {
            bench.record(sweep, gain(0.05 * k));
        }
        int pivot = 2;
        long[] lags =
                TakeSpectra.of(bench.takes(), BenchTakes.RATE, 0).align(pivot).lags();
        CommonObserver observer = new CommonObserver(40, 19_000);
        BinObservations microphone = observer.observe(bench.takes(), lags);
        double[] late = TimingCheck.of(microphone, pivot, BenchTakes.RATE, 60, 15_000, true)
                .seconds();
        List<TakeRecording> references =
                bench.takes().stream().map(TakeRecording::throughReference).toList();
        SourceDrift drift = SourceDrift.of(observer.observe(references, lags).advanced(late), pivot);
        assertThat(drift.driftDb()).containsExactly(new double[] {0, 0.05, 0.1}, within(0.002));
        CoherentSolver solver = new CoherentSolver(FrequencyBands.within(12, 100, 15_000), new Priors(1e-4, 1e-9));
        assertThat(solver.solve(microphone.advanced(late).dividedBy(drift.gainRe(), drift.gainIm()), takes)
                        .values())
                .allSatisfy(v -> assertThat(v.magnitudeOhm())
                        .as("|Z| at %s Hz", v.frequencyHz())
                        .isCloseTo(200, withinPercentage(0.5)));
    }

    private static CircuitBins bins(double variance) {
        return CircuitBins.of(ROOM, REFERENCE, variance);
    }

    private static double gain(double decibels) {
        return Math.pow(10, decibels / 20);
    }
}
