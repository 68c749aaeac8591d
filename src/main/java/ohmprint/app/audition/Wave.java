package ohmprint.app.audition;

import java.io.IOException;
import java.nio.file.Path;
import ohmprint.wav.WavEncoding;
import ohmprint.wav.WavWriter;

/** Begins files for sound whose samples are new: integers of up to 24 bits get dither, wider ones need none. */
final class Wave {
    private static final int WIDEST_DITHERED = 3;

    private Wave() {}

    /**
     * Begins one.
     *
     * @param seed makes the dither the same each time
     */
    static WavWriter create(Path file, int channels, double rate, WavEncoding encoding, long seed) throws IOException {
        return encoding.floating() || encoding.bytes() > WIDEST_DITHERED
                ? WavWriter.create(file, channels, (int) rate, encoding)
                : WavWriter.createDithered(file, channels, (int) rate, encoding, seed);
    }
}
