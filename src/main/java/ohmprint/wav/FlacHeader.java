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
 * @param bits bits per sample, 4 to 24
 * @param frames number of frames
 * @param firstFrame first byte after all metadata
 * @param bytes marker and stream header as a file without any other metadata would begin, 42 bytes
 */
@SuppressWarnings("ArrayRecordComponent")
record FlacHeader(int channels, double sampleRate, int bits, long frames, long firstFrame, byte[] bytes) {
    /** Bytes of marker, block header and stream header. */
    static final int BYTES = 42;

    private static final int LAST = 0x80;
    private static final String AGAIN = "copy it again from where it was encoded, or export it as WAV";

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
            throw new AudioFormatException(file, "does not begin with a FLAC stream header", AGAIN);
        }
        long packed = head.getLong(18);
        int rate = (int) (packed >>> 44);
        int channels = (int) ((packed >>> 41) & 7) + 1;
        int bits = (int) ((packed >>> 36) & 31) + 1;
        long frames = packed & 0xF_FFFF_FFFFL;
        if (rate == 0 || bits < 4) {
            throw new AudioFormatException(file, "says it has samples of " + bits + " bits at " + rate + " Hz", AGAIN);
        }
        if (bits > 24) {
            throw new AudioFormatException(
                    file, "holds samples of " + bits + " bits; FLAC is read up to 24 bits", "decode it to WAV");
        }
        if (frames == 0) {
            throw new AudioFormatException(
                    file, "does not say how many frames it holds (it was encoded as a stream)", "decode it to WAV");
        }
        long first = firstFrame(file, channel, head.get(4) < 0);
        byte[] bytes = new byte[BYTES];
        head.get(0, bytes);
        bytes[4] = (byte) LAST;
        return new FlacHeader(channels, rate, bits, frames, first, bytes);
    }

    private static long firstFrame(Path file, FileChannel channel, boolean streamHeaderIsLast) throws IOException {
        long position = BYTES;
        boolean last = streamHeaderIsLast;
        while (!last) {
            if (position + 4 > channel.size()) {
                throw new AudioFormatException(file, "ends inside its metadata", AGAIN);
            }
            int block = FileBytes.read(channel, position, 4)
                    .order(ByteOrder.BIG_ENDIAN)
                    .getInt();
            last = block < 0;
            position += 4 + (block & 0xFF_FFFF);
        }
        return position;
    }
}
