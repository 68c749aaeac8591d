package ohmprint.wav;

import java.io.EOFException;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import ohmprint.signal.SampleSource;
import org.jspecify.annotations.Nullable;

/**
 * Reads a FLAC file as a stream.
 *
 * <p>Memory is one block: at most 65 535 samples of each channel. The first fault ends the reading, and so does a sum over
 * all samples that differs from the encoder's. Skipping decodes, because the sum needs every sample.
 */
final class FlacReader implements SampleSource {
    private final Path file;
    private final FileChannel channel;
    private final FlacHeader header;
    private final FlacBlocks blocks;
    private final FlacChecksum checksum;
    private final double scale;
    private int blockPosition;
    private long decoded;
    private long position;

    private FlacReader(Path file, FileChannel channel, FlacHeader header) {
        this.file = file;
        this.channel = channel;
        this.header = header;
        this.blocks = new FlacBlocks(header, channel);
        this.checksum = new FlacChecksum(header);
        this.scale = Math.scalb(1.0, 1 - header.bits());
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
                long[] from = blocks.channel(c);
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
        if (blockPosition == blocks.size()) {
            decodeBlock();
        }
        return (int) Math.min(most, blocks.size() - blockPosition);
    }

    private void decodeBlock() throws IOException {
        long start = blocks.position();
        blockPosition = 0;
        try {
            if (blocks.atEnd()) {
                throw cutShort(start, null);
            }
            blocks.decode();
        } catch (FlacDamage e) {
            throw new AudioFormatException(
                    file,
                    "is damaged after frame " + decoded + ": the block at byte " + start + " " + e.getMessage(),
                    FlacHeader.AGAIN,
                    e);
        } catch (EOFException e) {
            throw cutShort(start, e);
        }
        if (blocks.size() > frames() - decoded) {
            throw new AudioFormatException(
                    file,
                    "has a block of " + blocks.size() + " frames at byte " + start + ", where " + (frames() - decoded)
                            + " are left: " + promise() + " " + frames(),
                    FlacHeader.AGAIN);
        }
        decoded += blocks.size();
        checksum.add(blocks);
        if (decoded == frames() && !checksum.matches()) {
            throw new AudioFormatException(
                    file,
                    "does not decode to the samples that were encoded: the MD5 sums over all " + frames()
                            + " frames differ",
                    FlacHeader.AGAIN);
        }
    }

    private AudioFormatException cutShort(long at, @Nullable EOFException cause) {
        String fault = "is cut short: " + promise() + " " + frames() + " frames, " + decoded
                + " whole ones are there before byte " + at;
        return cause == null
                ? new AudioFormatException(file, fault, FlacHeader.AGAIN)
                : new AudioFormatException(file, fault, FlacHeader.AGAIN, cause);
    }

    private String promise() {
        return header.stated() ? "its header promises" : "its last block counts";
    }
}
