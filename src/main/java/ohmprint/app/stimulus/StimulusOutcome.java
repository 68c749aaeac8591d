package ohmprint.app.stimulus;

import java.nio.file.Path;
import java.util.List;

/**
 * A stimulus that was written.
 *
 * @param file the file
 * @param kind word for {@code stimulus.kind} of a manifest
 * @param sampleRate frames per second
 * @param frames frames of the whole file
 * @param copies copies of the sound
 * @param copySeconds from the beginning of one copy to that of the next, seconds
 * @param peakDbfs highest sample, dB relative to full scale
 * @param rmsDbfs root mean square while it sounds, dB relative to full scale
 * @param cautions sentences to read before it is played
 */
public record StimulusOutcome(
        Path file,
        String kind,
        int sampleRate,
        long frames,
        int copies,
        double copySeconds,
        double peakDbfs,
        double rmsDbfs,
        List<String> cautions) {
    /** Copies the list. */
    public StimulusOutcome {
        cautions = List.copyOf(cautions);
    }

    /** Length of the whole file in seconds. */
    public double seconds() {
        return (double) frames / sampleRate;
    }
}
