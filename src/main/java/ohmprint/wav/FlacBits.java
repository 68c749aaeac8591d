package ohmprint.wav;

import java.io.EOFException;
import java.io.IOException;
import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.util.Arrays;

/**
 * The bits of a FLAC file from its first frame on, most significant bit first, with the checksum of what was read.
 *
 * <p>Memory is one buffer of 64 KiB. Nothing is read twice and nothing is searched for, so that every call ends: with its
 * value, or with {@link EOFException} at the end of the file, or with {@link FlacDamage} where a number is too large to be
 * one.
 */
final class FlacBits {
    private static final VarHandle LONG = MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

    /** Bytes of zeros behind what is there, so that eight bytes can be looked at anywhere. */
    private static final int SLACK = 16;

    private static final int SIZE = 1 << 16;
    private static final int[] CRC_8 = table(8, 0x07);
    private static final int[] CRC_16 = table(16, 0x8005);

    private final FileChannel channel;
    private final byte[] buffer = new byte[SIZE + SLACK];
    private long filePosition;
    private int end;
    private long bit;
    private int summed;
    private int crc16;
    private boolean exhausted;

    FlacBits(FileChannel channel, long position) {
        this.channel = channel;
        this.filePosition = position;
    }

    /** The byte of the file that is read next. */
    long position() {
        return filePosition - end + (bit >>> 3);
    }

    /** Whether nothing is left in the file. */
    boolean atEnd() throws IOException {
        demand();
        return bit >= 8L * end;
    }

    /** Begins to sum at the current byte. */
    void begin() {
        summed = (int) (bit >>> 3);
        crc16 = 0;
    }

    /**
     * The CRC-16 of the bytes since {@link #begin}: polynomial x¹⁶ + x¹⁵ + x² + 1, starting from 0.
     *
     * @throws IllegalStateException in the middle of a byte
     */
    int crc16() {
        if ((bit & 7) != 0) {
            throw new IllegalStateException("sums are over whole bytes");
        }
        sum((int) (bit >>> 3));
        return crc16;
    }

    /** The CRC-8 of the first bytes of an array: polynomial x⁸ + x² + x + 1, starting from 0. */
    static int crc8(byte[] bytes, int count) {
        int sum = 0;
        for (int i = 0; i < count; i++) {
            sum = CRC_8[(sum ^ bytes[i]) & 0xFF];
        }
        return sum;
    }

    /** The next bits as an unsigned number: 0 to 32 of them. */
    long unsigned(int count) throws IOException {
        demand();
        long value = count == 0 ? 0 : window() >>> (64 - count);
        advance(count);
        return value;
    }

    /** The next bits as a number in two's complement: 1 to 33 of them. */
    long signed(int count) throws IOException {
        demand();
        long value = window() >> (64 - count);
        advance(count);
        return value;
    }

    /**
     * The number of zeros before the next one.
     *
     * @param most the largest number that makes sense
     * @throws FlacDamage if there are more
     */
    long zeros(long most) throws IOException {
        long count = 0;
        while (true) {
            demand();
            // of a window at least 57 bits are the file's
            int zeros = Math.min(57, Long.numberOfLeadingZeros(window()));
            advance(zeros < 57 ? zeros + 1 : zeros);
            count += zeros;
            if (count > most) {
                throw new FlacDamage("holds a number that is too large");
            }
            if (zeros < 57) {
                return count;
            }
        }
    }

    /** Skips the rest of the current byte, which must be zeros. */
    void align() throws IOException {
        int rest = (int) (-bit & 7);
        if (unsigned(rest) != 0) {
            throw new FlacDamage("does not end in zeros");
        }
    }

    /**
     * Rice codes: each value v ≥ 0 as 2v and each v &lt; 0 as −2v − 1, whose upper part is a run of zeros ended by a one and
     * whose lower {@code parameter} bits follow.
     *
     * @param out filled from {@code from} to before {@code to}
     * @param parameter 0 to 30
     * @throws FlacDamage if a value needs more than 32 bits
     */
    void rice(long[] out, int from, int to, int parameter) throws IOException {
        long most = 0xFFFF_FFFFL >>> parameter;
        for (int i = from; i < to; i++) {
            demand();
            long window = window();
            int zeros = Long.numberOfLeadingZeros(window);
            long folded;
            if (zeros + 1 + parameter <= 57 && zeros <= most) {
                long low = window << zeros << 1;
                folded = (long) zeros << parameter | low >>> 1 >>> (63 - parameter);
                advance(zeros + 1 + parameter);
            } else {
                long high = zeros(most);
                folded = high << parameter | unsigned(parameter);
            }
            out[i] = folded >>> 1 ^ -(folded & 1);
        }
    }

    private long window() {
        return (long) LONG.get(buffer, (int) (bit >>> 3)) << (bit & 7);
    }

    private void advance(int count) throws EOFException {
        bit += count;
        if (exhausted && bit > 8L * end) {
            throw new EOFException("the file ends inside a frame");
        }
    }

    /** Sees to it that eight bytes can be looked at, real ones as long as the file has any. */
    private void demand() throws IOException {
        if (bit >>> 3 > end - 8 && !exhausted) {
            refill();
        }
    }

    private void refill() throws IOException {
        int at = (int) (bit >>> 3);
        sum(at);
        System.arraycopy(buffer, at, buffer, 0, end - at);
        end -= at;
        bit &= 7;
        summed = 0;
        ByteBuffer free = ByteBuffer.wrap(buffer, end, SIZE - end);
        while (free.hasRemaining() && !exhausted) {
            int got = channel.read(free, filePosition);
            exhausted = got < 0;
            if (got > 0) {
                filePosition += got;
                end += got;
            }
        }
        Arrays.fill(buffer, end, end + SLACK, (byte) 0);
    }

    private void sum(int to) {
        int sum = crc16;
        for (int i = summed; i < to; i++) {
            sum = (sum << 8 ^ CRC_16[(sum >>> 8 ^ buffer[i]) & 0xFF]) & 0xFFFF;
        }
        crc16 = sum;
        summed = to;
    }

    private static int[] table(int width, int polynomial) {
        int top = 1 << (width - 1);
        int mask = (1 << width) - 1;
        int[] table = new int[256];
        for (int i = 0; i < 256; i++) {
            int sum = i << (width - 8);
            for (int k = 0; k < 8; k++) {
                sum = (sum & top) != 0 ? sum << 1 ^ polynomial : sum << 1;
            }
            table[i] = sum & mask;
        }
        return table;
    }
}
