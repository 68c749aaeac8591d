package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.nio.file.Path;
import ohmprint.dsp.Noise;
import ohmprint.session.Session;
import ohmprint.session.SessionReader;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Each channel of a take is judged by the noise of its own lead-in. */
class ReferenceNoiseTest {
    private static final int RATE = 44_100;
    private static final double MICROPHONE_RMS = 1e-4;
    private static final double REFERENCE_RMS = 1e-3;

    @TempDir
    Path dir;

    /** White noise of the standard deviation σ has the one-sided density 2σ²/f_s (closed form). */
    @Test
    void theReferenceChannelHasTheFloorOfItsOwnLeadIn() throws Exception {
        TakeFolder folder = new TakeFolder(dir);
        double[] sound = Noise.whiteGaussian(2 * RATE, 0.1, 1);
        for (int k = 1; k <= 2; k++) {
            folder.write(
                    "take-" + k + ".wav", RATE, beside(sound, MICROPHONE_RMS, k), beside(sound, REFERENCE_RMS, 9 + k));
        }
        folder.manifest("""
                version: 1
                microphone: {label: Bench coil 4}
                input: {resistance_ohm: 5000, resistance_tolerance_percent: 0.1, capacitance_pf: 400}
                stimulus: {kind: noise}
                takes:
                  - {file: take-1.wav, load_ohm: 150, channel: 1, reference_channel: 2}
                  - {file: take-2.wav, load_ohm: 1500, channel: 1, reference_channel: 2}
                """);
        Session session = new SessionReader(TakeFiles.probe()).read(dir);
        TakeInspection seen = TakeInspection.of(session, session.takes().get(0));
        double hz = 8000;
        assertThat(seen.recording().noise().applyAsDouble(hz))
                .isCloseTo(2 * MICROPHONE_RMS * MICROPHONE_RMS / RATE, withinPercentage(20));
        assertThat(seen.recording().referenceNoise().applyAsDouble(hz))
                .isCloseTo(2 * REFERENCE_RMS * REFERENCE_RMS / RATE, withinPercentage(20));
        assertThat(seen.recording().throughReference().noise().applyAsDouble(hz))
                .isEqualTo(seen.recording().referenceNoise().applyAsDouble(hz));
    }

    /** The sound after a second of silence, in noise. */
    private static double[] beside(double[] sound, double rms, long seed) {
        double[] x = Noise.whiteGaussian(RATE + sound.length, rms, seed);
        for (int i = 0; i < sound.length; i++) {
            x[RATE + i] += sound[i];
        }
        return x;
    }
}
