package ohmprint.wav;

import java.io.EOFException;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;

/**
 * The number of samples of a FLAC file whose encoder could not go back to its header: the last frame tells its place and
 * its size.
 *
 * <p>A frame's sum over itself is 0, so the last frame is the shortest end of the file whose sum is 0 and which begins
 * with a header. The sum of every end is had from that of the next shorter one: the CRC-16 of n + 1 bytes is that of the
 * last n, plus the first byte times x^(8n + 16), all modulo the polynomial. The search is therefore one pass, whatever
 * the bytes are.
 */
final class FlacLength {
    /** How far back the last frame is looked for: more than one of 65 535 samples of 8 channels of 32 bits, stored plainly. */
    private static final int REACH = 1 << 22;

    private static final int POLYNOMIAL = 0x1_8005;

    private FlacLength() {}

    /**
     * Counts the samples per channel.
     *
     * @param first the first byte of the first frame
     * @param fixedSize samples of every frame but the last; 0 if sizes vary
     * @return the count; -1 if no frame ends where the file ends or the frame does not tell its place
     * @throws IOException if the file cannot be read
     */
    static long find(FileChannel channel, long first, int fixedSize) throws IOException {
        int count = (int) Math.min(REACH, channel.size() - first);
        if (count <= 0) {
            return -1;
        }
        ByteBuffer tail = FileBytes.read(channel, channel.size() - count, count);
        int sum = 0;
        int factor = POLYNOMIAL & 0xFFFF;
        for (int at = count - 1; at >= 0; at--) {
            sum ^= product(factor, tail.get(at) & 0xFF);
            factor = product(factor, 0x100);
            if (sum == 0 && tail.get(at) == (byte) 0xFF) {
                long total = behind(tail, at, fixedSize);
                if (total > 0) {
                    return total;
                }
            }
        }
        return -1;
    }

    /** The samples up to the end of the frame that may begin at an index; -1 if none does. */
    private static long behind(ByteBuffer tail, int at, int fixedSize) throws IOException {
        ByteBuffer bytes = tail.duplicate().position(at);
        try {
            FlacFrameHeader frame = FlacFrameHeader.read(() -> next(bytes));
            if (frame.counted()) {
                return frame.number() + frame.blockSize();
            }
            return frame.number() == 0 || fixedSize > 0 ? frame.number() * fixedSize + frame.blockSize() : -1;
        } catch (FlacDamage | EOFException e) {
            return -1;
        }
    }

    private static int next(ByteBuffer bytes) throws EOFException {
        if (!bytes.hasRemaining()) {
            throw new EOFException("the file ends inside a header");
        }
        return bytes.get() & 0xFF;
    }

    /** The product of two polynomials over the field of two elements, modulo the polynomial of the sum. */
    private static int product(int a, int b) {
        int product = 0;
        for (int bit = 8; bit >= 0; bit--) {
            product <<= 1;
            if ((product & 0x1_0000) != 0) {
                product ^= POLYNOMIAL;
            }
            if ((b >>> bit & 1) != 0) {
                product ^= a;
            }
        }
        return product;
    }
}
