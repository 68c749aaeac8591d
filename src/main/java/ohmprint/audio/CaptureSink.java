package ohmprint.audio;

import java.io.IOException;

/** Takes what is recorded, block by block, while the sound runs. */
@FunctionalInterface
public interface CaptureSink {
    /**
     * Takes the next frames.
     *
     * @param samples one array per channel, relative to full scale; only valid during the call
     * @param frames how many of each are filled
     * @return false to end the run here
     * @throws IOException if they cannot be kept; ends the run
     */
    boolean take(double[][] samples, int frames) throws IOException;
}
