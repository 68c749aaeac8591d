package ohmprint.estimate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import ohmprint.circuit.SourceModel;
import org.apache.commons.math3.complex.Complex;
import org.junit.jupiter.api.Test;

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
        // A delay turns the gain evenly over the octave; what is left is the curvature of its arc.
        assertThat(corrected.im(i, 2, 0)).isCloseTo(still.im(i, 2, 0), within(2e-3));
    }

    @Test
    void noiseOfTheReferenceAveragesOut() {
        BinObservations obs = bins(1e-4).withGain(1, gain(0.15)).noisy(CircuitBins.seeded(8), HZ);
        assertThat(SourceDrift.of(obs, 0).driftDb()[1]).isCloseTo(0.15, within(0.01));
    }

    private static CircuitBins bins(double variance) {
        return CircuitBins.of(ROOM, REFERENCE, variance);
    }

    private static double gain(double decibels) {
        return Math.pow(10, decibels / 20);
    }
}
