package ohmprint.wav;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Path;

/**
 * Reads a WAV file (RIFF, RF64 or BW64) as a stream.
 *
 * <p>What is read, and how, is said in the package comment. Memory is one block of about 256 KiB whatever the header
 * claims; skipping moves the position and reads nothing. Not for use by several threads at once.
 */
public final class WavReader extends PcmReader {
    private final Path file;
    private final PcmLayout layout;

    private WavReader(Path file, FileChannel channel, PcmLayout layout) {
        super(file, channel, layout);
        this.file = file;
        this.layout = layout;
    }

    /**
     * Opens a complete file.
     *
     * @param file the file
     * @throws AudioFormatException if it is not a WAV file that can be read exactly, or is shorter than its header says
     * @throws IOException if it cannot be opened or read
     */
    public static WavReader open(Path file) throws IOException {
        return open(file, false);
    }

    /**
     * Opens a file that may have been cut short, for example by a crash while recording: what is there is read, and
     * {@link #truncated()} tells whether something is missing.
     *
     * @param file the file
     * @throws AudioFormatException if it is not a WAV file that can be read exactly
     * @throws IOException if it cannot be opened or read
     */
    public static WavReader openTruncated(Path file) throws IOException {
        return open(file, true);
    }

    private static WavReader open(Path file, boolean truncated) throws IOException {
        FileChannel channel = FileBytes.open(file);
        try {
            PcmLayout layout = RiffParser.parse(file, channel);
            return new WavReader(file, channel, truncated ? layout : layout.complete(file));
        } catch (IOException | RuntimeException e) {
            channel.close();
            throw e;
        }
    }

    /** Frames that the header promises; more than {@link #frames()} only if the file is cut short. */
    public long promisedFrames() {
        return layout.promisedFrames();
    }

    /** Whether the file ends before its header says. */
    public boolean truncated() {
        return layout.truncated();
    }

    /** Frames of 4 bytes per channel may hold narrower samples at either end of 4: only empty spare bytes tell. */
    @Override
    void prepare(byte[] block, int frames, long position) throws AudioFormatException {
        PcmFormat format = layout.format();
        if (!format.couldBeWidened()) {
            return;
        }
        int used = format.channels() * format.sampleBytes();
        for (int frame = 0; frame < frames; frame++) {
            int start = FrameDecoder.LEAD + frame * format.blockAlign();
            for (int i = used; i < format.blockAlign(); i++) {
                if (block[start + i] != 0) {
                    throw new AudioFormatException(
                            file,
                            "says " + 8 * format.sampleBytes() + " bits per sample but " + format.blockAlign()
                                    + " bytes per frame of " + format.channels()
                                    + " channels, and the spare bytes are not empty in frame " + (position + frame)
                                    + ", so where each sample lies is not certain",
                            "export it with samples packed without gaps");
                }
            }
        }
    }
}
