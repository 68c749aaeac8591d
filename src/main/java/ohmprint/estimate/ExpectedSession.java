package ohmprint.estimate;

import java.util.function.IntToDoubleFunction;
import ohmprint.circuit.SourceModel;
import ohmprint.curve.FrequencyBands;

/**
 * What a session is expected to meet, before it is recorded.
 *
 * <p>The noise counts as equally strong in all takes, so a load takes from the signal alone.
 *
 * @param bands bands that the result is wanted on
 * @param source source impedance that is expected
 * @param signalToNoise for each band, numbered from 0, the power ratio in each bin of width {@code 1/seconds} of a take without
 *     a resistor; nothing above 0 says that there is no signal
 * @param seconds length of the sound in seconds
 */
public record ExpectedSession(
        FrequencyBands bands, SourceModel source, IntToDoubleFunction signalToNoise, double seconds) {
    /** Checks the length. */
    public ExpectedSession {
        if (!(seconds > 0) || Double.isInfinite(seconds)) {
            throw new IllegalArgumentException("a sound of " + seconds + " s is not possible; give a length above 0 s");
        }
    }

    /**
     * With the same ratio of signal and noise in all bins: what a sweep with constant time per octave gives over an ambient
     * noise of constant power per octave.
     *
     * @param bands bands that the result is wanted on
     * @param source source impedance that is expected
     * @param signalToNoise power ratio in each bin of a take without a resistor
     * @param seconds length of the sound in seconds
     */
    public ExpectedSession(FrequencyBands bands, SourceModel source, double signalToNoise, double seconds) {
        this(bands, source, b -> signalToNoise, seconds);
        if (!(signalToNoise > 0) || Double.isInfinite(signalToNoise)) {
            throw new IllegalArgumentException(
                    "a signal-to-noise ratio of " + signalToNoise + " is not possible; give a positive power ratio");
        }
    }

    /** The same with a sound of another length in seconds. */
    public ExpectedSession lasting(double length) {
        return new ExpectedSession(bands, source, signalToNoise, length);
    }

    /** Bins that fall into band {@code b}: its width times the length of the sound, not rounded. */
    double binsIn(int b) {
        return (bands.upperEdge(b) - bands.lowerEdge(b)) * seconds;
    }
}
