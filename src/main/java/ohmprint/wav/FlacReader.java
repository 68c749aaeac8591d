package ohmprint.wav;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.SequenceInputStream;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import ohmprint.signal.SampleSource;
import org.jflac.FLACDecoder;
import org.jflac.FrameListener;
import org.jflac.frame.Frame;
import org.jflac.metadata.Metadata;
import org.jspecify.annotations.Nullable;

/**
 * Reads a FLAC file as a stream through the JustFLAC decoder.
 *
 * <p>The decoder replaces damaged frames by silence and carries on; here every fault it reports, every frame that does
 * not match the stream's header, and a sum over all samples that differs from the encoder's end the reading. The decoder
 * is given the stream header and the frames only: it would hold tags and pictures of any claimed size in memory.
 */
final class FlacReader implements SampleSource {
    private static final String AGAIN = "copy it again from where it was encoded, or export it as WAV";

    private final Path file;
    private final FileChannel channel;
    private final FlacHeader header;
    private final FLACDecoder decoder;
    private final FlacChecksum checksum;
    private final double scale;
    private @Nullable String fault;
    private int blockFrames;
    private int blockPosition;
    private long decoded;
    private long position;

    private FlacReader(Path file, FileChannel channel, FlacHeader header) throws IOException {
        this.file = file;
        this.channel = channel;
        this.header = header;
        this.checksum = new FlacChecksum(header);
        this.scale = Math.scalb(1.0, 1 - header.bits());
        channel.position(header.firstFrame());
        InputStream frames = Channels.newInputStream(channel);
        decoder = new FLACDecoder(new SequenceInputStream(new ByteArrayInputStream(header.bytes()), frames));
        decoder.addFrameListener(new FaultListener());
        decoder.readMetadata();
    }

    /**
     * Opens a file.
     *
     * @param file the file
     * @throws AudioFormatException if it is not a FLAC file that can be read exactly
     * @throws IOException if it cannot be opened or read
     */
    static FlacReader open(Path file) throws IOException {
        FileChannel channel = FileBytes.open(file);
        try {
            return new FlacReader(file, channel, FlacHeader.parse(file, channel));
        } catch (IOException | RuntimeException e) {
            channel.close();
            throw e;
        }
    }

    /** Bits of a sample. */
    int bits() {
        return header.bits();
    }

    @Override
    public int channels() {
        return header.channels();
    }

    @Override
    public double sampleRate() {
        return header.sampleRate();
    }

    @Override
    public long frames() {
        return header.frames();
    }

    @Override
    public int read(double[][] into, int offset, int count) throws IOException {
        int wanted = (int) Math.min(count, frames() - position);
        int done = 0;
        while (done < wanted) {
            int now = available(wanted - done);
            for (int c = 0; c < channels(); c++) {
                int[] from = decoder.getChannelData()[c].getOutput();
                double[] out = into[c];
                for (int i = 0; i < now; i++) {
                    out[offset + done + i] = from[blockPosition + i] * scale;
                }
            }
            blockPosition += now;
            position += now;
            done += now;
        }
        return done;
    }

    @Override
    public long skip(long count) throws IOException {
        long wanted = Math.min(count, frames() - position);
        long done = 0;
        while (done < wanted) {
            int now = available(wanted - done);
            blockPosition += now;
            position += now;
            done += now;
        }
        return done;
    }

    @Override
    public void close() throws IOException {
        channel.close();
    }

    /** Frames that can be taken from the current block, at least 1 and at most {@code most}; decodes a new block if used up. */
    private int available(long most) throws IOException {
        if (blockPosition == blockFrames) {
            decodeBlock();
        }
        return (int) Math.min(most, blockFrames - blockPosition);
    }

    private void decodeBlock() throws IOException {
        Frame frame;
        try {
            frame = decoder.readNextFrame();
        } catch (IOException | RuntimeException e) {
            throw new AudioFormatException(file, "is damaged after frame " + decoded, AGAIN, e);
        }
        if (frame == null) {
            throw new AudioFormatException(
                    file,
                    "is cut short: its header promises " + frames() + " frames, " + decoded + " whole ones are there",
                    AGAIN);
        }
        if (fault != null) {
            throw new AudioFormatException(file, "is damaged after frame " + decoded + " (" + fault + ")", AGAIN);
        }
        int size = frame.header.blockSize;
        if (frame.header.channels != channels()
                || frame.header.bitsPerSample != header.bits()
                || size < 1
                || size > frames() - decoded) {
            throw new AudioFormatException(
                    file, "has a block after frame " + decoded + " that does not match its header", AGAIN);
        }
        blockFrames = size;
        blockPosition = 0;
        decoded += size;
        checksum.add(decoder.getChannelData(), size);
        if (decoded == frames() && !checksum.matches()) {
            throw new AudioFormatException(
                    file, "does not decode to the samples that were encoded (MD5 sums differ)", AGAIN);
        }
    }

    /** Keeps the first fault that the decoder reports and would otherwise pass over. */
    private final class FaultListener implements FrameListener {
        @Override
        public void processMetadata(Metadata metadata) {
            // nothing but the stream header is given to the decoder, and that has been read already
        }

        @Override
        public void processFrame(Frame frame) {
            // blocks are pulled one by one
        }

        @Override
        public void processError(String message) {
            if (fault == null) {
                fault = message;
            }
        }
    }
}
