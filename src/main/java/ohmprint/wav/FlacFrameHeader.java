package ohmprint.wav;

import java.io.IOException;

/**
 * The header of one FLAC frame. Source: RFC 9639, section 9.1 (from memory).
 *
 * @param counted whether {@code number} counts samples, as where block sizes vary, and not frames
 * @param number the place of the frame in the stream
 * @param blockSize samples per channel, 1 to 65 535
 * @param rate samples per second; 0 where the stream's header says it
 * @param assignment 0 to 7: that many channels and one, as they are; 8 left and side, 9 side and right, 10 mid and side
 * @param bits bits per sample; 0 where the stream's header says it
 */
record FlacFrameHeader(boolean counted, long number, int blockSize, int rate, int assignment, int bits) {
    /** Bytes of the longest header. */
    static final int MOST_BYTES = 16;

    private static final int[] RATES = {
        0, 88_200, 176_400, 192_000, 8_000, 16_000, 22_050, 24_000, 32_000, 44_100, 48_000, 96_000
    };
    private static final int[] BITS = {0, 8, 12, -1, 16, 20, 24, 32};

    /** Where the bytes of a header come from, one by one. */
    @FunctionalInterface
    interface Bytes {
        /** The next byte, 0 to 255. */
        int next() throws IOException;
    }

    /**
     * Reads a header and checks its sum.
     *
     * @throws FlacDamage if it is none
     * @throws IOException if the bytes end or cannot be read
     */
    static FlacFrameHeader read(Bytes source) throws IOException {
        Reading in = new Reading(source);
        int sync = in.number(2);
        if (sync >>> 1 != 0xFFF8 >>> 1) {
            throw new FlacDamage("does not begin with the mark of a frame");
        }
        int sizeAndRate = in.number(1);
        int channelsAndBits = in.number(1);
        long number = in.coded();
        int blockSize = blockSize(sizeAndRate >>> 4, in);
        int rate = rate(sizeAndRate & 15, in);
        int assignment = channelsAndBits >>> 4;
        int bits = BITS[channelsAndBits >>> 1 & 7];
        in.checkSum();
        if (assignment > 10 || bits < 0 || (channelsAndBits & 1) != 0) {
            throw new FlacDamage("has a header with reserved values");
        }
        return new FlacFrameHeader((sync & 1) != 0, number, blockSize, rate, assignment, bits);
    }

    /** Channels of the frame. */
    int channels() {
        return assignment < 8 ? assignment + 1 : 2;
    }

    private static int blockSize(int code, Reading in) throws IOException {
        int size = switch (code) {
            case 0 -> throw new FlacDamage("has a header with reserved values");
            case 1 -> 192;
            case 2, 3, 4, 5 -> 144 << code;
            case 6 -> in.number(1) + 1;
            case 7 -> in.number(2) + 1;
            default -> 1 << code;
        };
        if (size > 65_535) {
            throw new FlacDamage("claims a block of " + size + " samples, more than 65535");
        }
        return size;
    }

    private static int rate(int code, Reading in) throws IOException {
        return switch (code) {
            case 12 -> 1000 * in.number(1);
            case 13 -> in.number(2);
            case 14 -> 10 * in.number(2);
            case 15 -> throw new FlacDamage("has a header with reserved values");
            default -> RATES[code];
        };
    }

    /** Reads bytes and keeps them for the sum. */
    private static final class Reading {
        private final Bytes source;
        private final byte[] kept = new byte[MOST_BYTES];
        private int count;

        Reading(Bytes source) {
            this.source = source;
        }

        int number(int bytes) throws IOException {
            int value = 0;
            for (int i = 0; i < bytes; i++) {
                int next = source.next();
                kept[count++] = (byte) next;
                value = value << 8 | next;
            }
            return value;
        }

        /** A number of up to 36 bits in one to seven bytes: the first tells by its leading ones how many follow. */
        long coded() throws IOException {
            int first = number(1);
            int ones = Integer.numberOfLeadingZeros(~first << 24);
            if (ones == 0) {
                return first;
            }
            if (ones == 1 || ones == 8) {
                throw new FlacDamage("has no number");
            }
            long value = first & 0x7F >>> ones;
            for (int i = 1; i < ones; i++) {
                int next = number(1);
                if (next >>> 6 != 2) {
                    throw new FlacDamage("has no number");
                }
                value = (value << 6) | (next & 0x3F);
            }
            return value;
        }

        void checkSum() throws IOException {
            int expected = FlacBits.crc8(kept, count);
            if (source.next() != expected) {
                throw new FlacDamage("has a header whose sum (CRC-8) differs");
            }
        }
    }
}
