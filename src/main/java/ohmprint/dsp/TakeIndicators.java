package ohmprint.dsp;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;

/**
 * What one pass over one channel of a take tells about its quality.
 *
 * @param frames number of frames seen
 * @param sampleRate in hertz
 * @param peak highest absolute sample, relative to full scale
 * @param peakFrame the first frame at which it stands; −1 when every sample is zero
 * @param rms root mean square of all samples, direct component included, relative to full scale
 * @param dcOffset mean of all samples, relative to full scale
 * @param clipping flat tops, if there are any
 * @param dropouts standstills inside the sound, in order; at most 4096
 * @param onsetFrame where the sound begins, to about 10 ms; empty when the take starts inside the sound or holds none
 * @param endFrame one past the last frame of the sound, to about 10 ms; empty when the take ends inside the sound
 * @param leadInDbfs level before the onset in dBFS (mean square); NaN without a lead-in
 * @param tailDbfs level after the end in dBFS (mean square); NaN without a tail
 * @param envelope the short-time level
 */
public record TakeIndicators(
        long frames,
        double sampleRate,
        double peak,
        long peakFrame,
        double rms,
        double dcOffset,
        Optional<Clipping> clipping,
        List<Dropout> dropouts,
        OptionalLong onsetFrame,
        OptionalLong endFrame,
        double leadInDbfs,
        double tailDbfs,
        LevelMeter.LevelEnvelope envelope) {

    /** Copies the list. */
    public TakeIndicators {
        dropouts = List.copyOf(dropouts);
    }

    /** Total length of the dropouts in milliseconds. */
    public double dropoutMilliseconds() {
        return 1000 * dropouts.stream().mapToLong(Dropout::frames).sum() / sampleRate;
    }
}
