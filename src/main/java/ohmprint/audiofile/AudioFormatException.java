package ohmprint.audiofile;

import java.io.IOException;
import java.nio.file.Path;

/**
 * A sound file that cannot be read or written as it is.
 *
 * <p>The message names the file, what is wrong with it, and the next step.
 */
public final class AudioFormatException extends IOException {
    /** The next step after damage to a file of chunks. */
    static final String COPY = "copy it again from where it was recorded, or export it again as WAV";

    private static final long serialVersionUID = 1L;

    private final String file;

    /**
     * A fault of one file.
     *
     * @param file the file
     * @param fault what is wrong, with its value and unit, for example {@code "has no data chunk"}
     * @param nextStep what to do about it, for example {@code "export it again as WAV"}
     */
    public AudioFormatException(Path file, String fault, String nextStep) {
        super(file + ": " + fault + "; " + nextStep);
        this.file = file.toString();
    }

    /**
     * A fault of one file that another exception brought to light.
     *
     * @param file the file
     * @param fault what is wrong
     * @param nextStep what to do about it
     * @param cause the exception behind it
     */
    public AudioFormatException(Path file, String fault, String nextStep, Throwable cause) {
        this(file, fault, nextStep);
        initCause(cause);
    }

    /** The file, as it was named when it was opened. */
    public Path file() {
        return Path.of(file);
    }
}
