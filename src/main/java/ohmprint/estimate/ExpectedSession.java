package ohmprint.estimate;

import ohmprint.circuit.SourceModel;
import ohmprint.curve.FrequencyBands;

/**
 * What a session is expected to meet, before it is recorded.
 *
 * <p>Each bin of width {@code 1/seconds} of a take without a resistor has the same ratio of signal and noise: what a sweep
 * with constant time per octave gives over an ambient noise of constant power per octave. The noise counts as equally
 * strong in all takes, so a load takes from the signal alone.
 *
 * @param bands bands that the result is wanted on
 * @param source source impedance that is expected
 * @param signalToNoise power ratio in each bin of a take without a resistor
 * @param seconds length of the sound in seconds
 */
public record ExpectedSession(FrequencyBands bands, SourceModel source, double signalToNoise, double seconds) {
    /** Checks the ranges. */
    public ExpectedSession {
        if (!(signalToNoise > 0) || Double.isInfinite(signalToNoise)) {
            throw new IllegalArgumentException(
                    "a signal-to-noise ratio of " + signalToNoise + " is not possible; give a positive power ratio");
        }
        if (!(seconds > 0) || Double.isInfinite(seconds)) {
            throw new IllegalArgumentException("a sound of " + seconds + " s is not possible; give a length above 0 s");
        }
    }

    /** Bins that fall into band {@code b}: its width times the length of the sound, not rounded. */
    double binsIn(int b) {
        return (bands.upperEdge(b) - bands.lowerEdge(b)) * seconds;
    }
}
