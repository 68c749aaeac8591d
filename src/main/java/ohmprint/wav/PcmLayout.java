package ohmprint.wav;

import java.nio.file.Path;

/**
 * Where the samples of a file lie.
 *
 * @param format layout of one frame
 * @param dataStart first byte of the first frame
 * @param dataLength bytes of samples that are there
 * @param promisedLength bytes of samples that the header promises; equal to {@code dataLength} unless the file is cut
 */
record PcmLayout(PcmFormat format, long dataStart, long dataLength, long promisedLength) {
    /** Whole frames that are there. */
    long frames() {
        return dataLength / format.blockAlign();
    }

    /** Whole frames that the header promises. */
    long promisedFrames() {
        return promisedLength / format.blockAlign();
    }

    /** Whether the file ends before the samples do. */
    boolean truncated() {
        return promisedLength > dataLength;
    }

    /**
     * This layout, if nothing is missing.
     *
     * @throws AudioFormatException if the file ends before the samples do
     */
    PcmLayout complete(Path file) throws AudioFormatException {
        if (truncated()) {
            throw new AudioFormatException(
                    file,
                    "is cut short: its header promises " + promisedLength + " bytes of samples (" + promisedFrames()
                            + " frames), " + dataLength + " bytes (" + frames() + " frames) are there",
                    "copy it again from where it was recorded, or record the take again");
        }
        return this;
    }
}
