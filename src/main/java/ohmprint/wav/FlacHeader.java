package ohmprint.wav;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Path;

/**
 * The stream header of a FLAC file. Source: RFC 9639, section 8 (from memory).
 *
 * @param channels samples per frame, 1 to 8
 * @param sampleRate frames per second, in hertz
 * @param bits bits per sample, 4 to 32
 * @param frames number of frames
 * @param stated whether the header states that number; the last block does otherwise
 * @param firstFrame first byte after all metadata
 * @param md5 the encoder's sum over all samples; zeros if it left none
 */
@SuppressWarnings("ArrayRecordComponent")
record FlacHeader(int channels, double sampleRate, int bits, long frames, boolean stated, long firstFrame, byte[] md5) {
    /** The next step after damage. */
    static final String AGAIN = "copy it again from where it was encoded, or export it as WAV";

    /** Bytes of marker, block header and stream header. */
    private static final int BYTES = 42;

    /** Bytes of the shortest block: header and number, one channel that is constant, and two sums. */
    private static final int LEAST_BLOCK_BYTES = 10;

    /**
     * Reads the stream header and steps over all other metadata.
     *
     * @throws AudioFormatException if the file cannot be read exactly
     * @throws IOException if it cannot be read
     */
    static FlacHeader parse(Path file, FileChannel channel) throws IOException {
        if (channel.size() < BYTES) {
            throw new AudioFormatException(
                    file, "is only " + channel.size() + " bytes long, shorter than a header", AGAIN);
        }
        ByteBuffer head = FileBytes.read(channel, 0, BYTES).order(ByteOrder.BIG_ENDIAN);
        if (head.getInt(0) != 0x664C_6143 || (head.getInt(4) & 0x7FFF_FFFF) != 34) {
            throw new AudioFormatException(
                    file, "does not begin with a FLAC stream header in its first 8 bytes", AGAIN);
        }
        long packed = head.getLong(18);
        int rate = (int) (packed >>> 44);
        int channels = (int) ((packed >>> 41) & 7) + 1;
        int bits = (int) ((packed >>> 36) & 31) + 1;
        FormatBounds.check(file, channels, rate);
        if (bits < 4) {
            throw new AudioFormatException(
                    file, "states samples of " + bits + " bits; 4 to 32 bits can be read", AGAIN);
        }
        long first = firstFrame(file, channel, head.get(4) < 0);
        long stated = packed & 0xF_FFFF_FFFFL;
        int leastSize = head.getShort(8) & 0xFFFF;
        int mostSize = head.getShort(10) & 0xFFFF;
        long frames = stated != 0 ? stated : counted(file, channel, first, leastSize == mostSize ? mostSize : 0);
        long blocks = (channel.size() - first) / LEAST_BLOCK_BYTES;
        if (frames > 65_535 * blocks) {
            throw new AudioFormatException(
                    file,
                    "is cut short: its header promises " + frames + " frames, which do not fit into the "
                            + (channel.size() - first) + " bytes that are there",
                    AGAIN);
        }
        byte[] md5 = new byte[16];
        head.get(BYTES - 16, md5);
        return new FlacHeader(channels, rate, bits, frames, stated != 0, first, md5);
    }

    private static long counted(Path file, FileChannel channel, long first, int fixedSize) throws IOException {
        long frames = FlacLength.find(channel, first, fixedSize);
        if (frames < 0) {
            throw new AudioFormatException(
                    file,
                    "does not state how many frames it holds (it was encoded as a stream), and no whole block ends"
                            + " where the file ends",
                    AGAIN);
        }
        return frames;
    }

    private static long firstFrame(Path file, FileChannel channel, boolean streamHeaderIsLast) throws IOException {
        long position = BYTES;
        boolean last = streamHeaderIsLast;
        while (!last) {
            if (position + 4 > channel.size()) {
                throw endsInMetadata(file, channel, position);
            }
            int block = FileBytes.read(channel, position, 4)
                    .order(ByteOrder.BIG_ENDIAN)
                    .getInt();
            last = block < 0;
            long next = position + 4 + (block & 0xFF_FFFF);
            if (next > channel.size()) {
                throw endsInMetadata(file, channel, position);
            }
            position = next;
        }
        return position;
    }

    private static AudioFormatException endsInMetadata(Path file, FileChannel channel, long position)
            throws IOException {
        return new AudioFormatException(
                file,
                "ends inside its metadata: after " + channel.size() + " bytes, within what begins at byte " + position,
                AGAIN);
    }
}
