package ohmprint.session;

import java.io.IOException;
import java.nio.file.Path;

/** Tells the shape of an audio file without reading its samples. */
@FunctionalInterface
public interface AudioProbe {
    /**
     * Channels, sample rate and length of a file.
     *
     * @param file an existing file
     * @throws IOException if it is not audio that can be read; the message says why, without the file's name
     */
    AudioShape shape(Path file) throws IOException;

    /**
     * What the header of an audio file says.
     *
     * @param channels number of channels
     * @param sampleRate samples per second and channel, in hertz
     * @param frames samples per channel
     */
    record AudioShape(int channels, double sampleRate, long frames) {}
}
