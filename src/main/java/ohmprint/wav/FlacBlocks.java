package ohmprint.wav;

import java.io.IOException;
import java.nio.channels.FileChannel;

/**
 * Decodes the frames of a FLAC file one by one. Source: RFC 9639, section 9 (from memory).
 *
 * <p>Every frame must carry its sums, fit the stream's header, follow the one before it by its number, and hold samples
 * of the stated width. Nothing is searched for behind a fault: the first one ends the reading.
 */
final class FlacBlocks {
    private final FlacHeader header;
    private final FlacBits in;
    private final long[][] samples;
    private long next = -1;
    private boolean counted;
    private int size;

    FlacBlocks(FlacHeader header, FileChannel channel) {
        this.header = header;
        this.in = new FlacBits(channel, header.firstFrame());
        this.samples = new long[header.channels()][0];
    }

    /** Samples per channel of the frame decoded last. */
    int size() {
        return size;
    }

    /** Samples of a channel, of which {@link #size} are those of the frame decoded last; not to be kept or changed. */
    long[] channel(int index) {
        return samples[index];
    }

    /** The byte of the file behind the frame decoded last. */
    long position() {
        return in.position();
    }

    /** Whether the file ends here. */
    boolean atEnd() throws IOException {
        return in.atEnd();
    }

    /**
     * Decodes the next frame.
     *
     * @throws FlacDamage if it cannot be decoded exactly
     * @throws java.io.EOFException if the file ends in it
     * @throws IOException if the file cannot be read
     */
    void decode() throws IOException {
        size = 0;
        in.begin();
        FlacFrameHeader frame = FlacFrameHeader.read(() -> (int) in.unsigned(8));
        check(frame);
        int assignment = frame.assignment();
        int block = frame.blockSize();
        for (int c = 0; c < samples.length; c++) {
            if (samples[c].length < block) {
                samples[c] = new long[block];
            }
            boolean side = assignment == 9 ? c == 0 : assignment >= 8 && c == 1;
            FlacSubframe.decode(in, samples[c], block, header.bits() + (side ? 1 : 0));
        }
        in.align();
        int expected = in.crc16();
        if (in.unsigned(16) != expected) {
            throw new FlacDamage("has a sum (CRC-16) that differs");
        }
        if (assignment >= 8) {
            separate(assignment, block);
        }
        checkWidth(block);
        next = frame.number() + (counted ? block : 1);
        size = block;
    }

    private void check(FlacFrameHeader frame) throws FlacDamage {
        boolean fits = frame.channels() == header.channels()
                && (frame.bits() == 0 || frame.bits() == header.bits())
                && (frame.rate() == 0 || frame.rate() == header.sampleRate());
        if (!fits) {
            throw new FlacDamage("does not match the header of the file in channels, bits or rate");
        }
        if (next < 0) {
            counted = frame.counted();
        } else if (frame.counted() != counted || frame.number() != next) {
            throw new FlacDamage("has the number " + frame.number() + " where " + next + " belongs");
        }
    }

    private void separate(int assignment, int block) {
        long[] first = samples[0];
        long[] second = samples[1];
        switch (assignment) {
            case 8 -> {
                for (int i = 0; i < block; i++) {
                    second[i] = first[i] - second[i];
                }
            }
            case 9 -> {
                for (int i = 0; i < block; i++) {
                    first[i] += second[i];
                }
            }
            default -> {
                for (int i = 0; i < block; i++) {
                    long mid = (first[i] << 1) | (second[i] & 1);
                    long side = second[i];
                    first[i] = (mid + side) >> 1;
                    second[i] = (mid - side) >> 1;
                }
            }
        }
    }

    private void checkWidth(int block) throws FlacDamage {
        int above = header.bits() - 1;
        long beyond = 0;
        for (long[] channel : samples) {
            for (int i = 0; i < block; i++) {
                beyond |= (channel[i] ^ channel[i] >> 63) >>> above;
            }
        }
        if (beyond != 0) {
            throw new FlacDamage("holds samples of more than " + header.bits() + " bits");
        }
    }
}
