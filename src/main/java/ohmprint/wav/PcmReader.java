package ohmprint.wav;

import java.io.EOFException;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import ohmprint.signal.SampleSource;

/**
 * Reads uncompressed samples from a file whose layout is known.
 *
 * <p>Memory is one block of about 256 KiB whatever the header claims; skipping moves the position and reads nothing. Not
 * for use by several threads at once.
 */
abstract class PcmReader implements SampleSource {
    private static final int BLOCK_BYTES = 1 << 18;

    private final Path file;
    private final FileChannel channel;
    private final PcmLayout layout;
    private final PcmFormat format;
    private final FrameDecoder decoder;
    private final int blockFrames;
    private byte[] block = new byte[0];
    private long position;

    PcmReader(Path file, FileChannel channel, PcmLayout layout) {
        this.file = file;
        this.channel = channel;
        this.layout = layout;
        this.format = layout.format();
        this.decoder = new FrameDecoder(format);
        this.blockFrames = Math.max(1, BLOCK_BYTES / format.blockAlign());
    }

    /**
     * Makes a block of raw frames little-endian and 8-bit samples unsigned, and checks it.
     *
     * @param block the frames, from {@link FrameDecoder#LEAD} on
     * @param frames how many
     * @param position index of the first
     */
    abstract void prepare(byte[] block, int frames, long position) throws AudioFormatException;

    @Override
    public final int channels() {
        return format.channels();
    }

    @Override
    public final double sampleRate() {
        return format.sampleRate();
    }

    /** Frames that can be read; of a file cut short, those that are there. */
    @Override
    public final long frames() {
        return layout.frames();
    }

    /** Bits of a sample that carry sound, for example 24 of a 24-bit sample in a 32-bit container. */
    public final int bits() {
        return format.validBits();
    }

    /** Whether the samples are stored as IEEE 754 floats. */
    public final boolean floating() {
        return format.floating();
    }

    @Override
    public final int read(double[][] into, int offset, int count) throws IOException {
        int wanted = (int) Math.min(count, frames() - position);
        int done = 0;
        while (done < wanted) {
            int now = Math.min(blockFrames, wanted - done);
            readBlock(now);
            if (!decoder.decode(block, now, into, offset + done)) {
                throw notFinite(into, offset + done, now);
            }
            position += now;
            done += now;
        }
        return done;
    }

    @Override
    public final long skip(long count) {
        long skipped = Math.min(count, frames() - position);
        position += skipped;
        return skipped;
    }

    @Override
    public final void close() throws IOException {
        channel.close();
    }

    private void readBlock(int now) throws IOException {
        int size = now * format.blockAlign();
        if (block.length < FrameDecoder.LEAD + size) {
            block = new byte[FrameDecoder.LEAD + size];
        }
        long from = layout.dataStart() + position * format.blockAlign();
        try {
            FileBytes.fill(channel, from, ByteBuffer.wrap(block, FrameDecoder.LEAD, size));
        } catch (EOFException e) {
            throw new AudioFormatException(
                    file,
                    "became shorter while it was read: frame " + position + " of " + frames() + " is gone",
                    "let the program that writes it finish, then try again",
                    e);
        }
        prepare(block, now, position);
    }

    private AudioFormatException notFinite(double[][] into, int offset, int count) {
        for (int frame = 0; frame < count; frame++) {
            for (int c = 0; c < channels(); c++) {
                double value = into[c][offset + frame];
                if (!Double.isFinite(value)) {
                    return new AudioFormatException(
                            file,
                            "holds " + value + " instead of a sample at frame " + (position + frame) + ", channel "
                                    + (c + 1),
                            "record the take again, or repair that place and export it again");
                }
            }
        }
        throw new IllegalStateException("no sample of this block is infinite or NaN");
    }
}
