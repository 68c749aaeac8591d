package ohmprint.audiofile;

import java.io.EOFException;
import java.io.IOException;
import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Arrays;
import ohmprint.dsp.SampleSource;
import org.jspecify.annotations.Nullable;

/**
 * Reads a FLAC file as a stream.
 *
 * <p>The whole format is in this file, in the order in which it is read: the stream's header, frames, the channels in a
 * frame, bits. Nothing of it has another user.
 *
 * <p>Memory is one block: at most 65 535 samples of each channel. The first fault ends the reading, and so does a sum over
 * all samples that differs from the encoder's. Skipping decodes, because the sum needs every sample.
 */
final class FlacReader implements SampleSource {
    private final Path file;
    private final FileChannel channel;
    private final Header header;
    private final Blocks blocks;
    private final Checksum checksum;
    private final double scale;
    private int blockPosition;
    private long decoded;
    private long position;

    private FlacReader(Path file, FileChannel channel, Header header) {
        this.file = file;
        this.channel = channel;
        this.header = header;
        this.blocks = new Blocks(header, channel);
        this.checksum = new Checksum(header);
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
        return FileBytes.open(file, channel -> new FlacReader(file, channel, Header.parse(file, channel)));
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
        } catch (Damage e) {
            throw new AudioFormatException(
                    file,
                    "is damaged after frame " + decoded + ": the block at byte " + start + " " + e.getMessage(),
                    Header.AGAIN,
                    e);
        } catch (EOFException e) {
            throw cutShort(start, e);
        }
        if (blocks.size() > frames() - decoded) {
            throw new AudioFormatException(
                    file,
                    "has a block of " + blocks.size() + " frames at byte " + start + ", where " + (frames() - decoded)
                            + " are left: " + promise() + " " + frames(),
                    Header.AGAIN);
        }
        decoded += blocks.size();
        checksum.add(blocks);
        if (decoded == frames() && !checksum.matches()) {
            throw new AudioFormatException(
                    file,
                    "does not decode to the samples that were encoded: the MD5 sums over all " + frames()
                            + " frames differ",
                    Header.AGAIN);
        }
    }

    private AudioFormatException cutShort(long at, @Nullable EOFException cause) {
        String fault = "is cut short: " + promise() + " " + frames() + " frames, " + decoded
                + " whole ones are there before byte " + at;
        return cause == null
                ? new AudioFormatException(file, fault, Header.AGAIN)
                : new AudioFormatException(file, fault, Header.AGAIN, cause);
    }

    private String promise() {
        return header.stated() ? "its header promises" : "its last block counts";
    }

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
    private record Header(
            int channels, double sampleRate, int bits, long frames, boolean stated, long firstFrame, byte[] md5) {
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
        static Header parse(Path file, FileChannel channel) throws IOException {
            ByteBuffer head = FileBytes.header(file, channel, BYTES, AGAIN).order(ByteOrder.BIG_ENDIAN);
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
            return new Header(channels, rate, bits, frames, stated != 0, first, md5);
        }

        private static long counted(Path file, FileChannel channel, long first, int fixedSize) throws IOException {
            long frames = Length.find(channel, first, fixedSize);
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
                    "ends inside its metadata: after " + channel.size() + " bytes, within what begins at byte "
                            + position,
                    AGAIN);
        }
    }

    /**
     * The number of samples of a FLAC file whose encoder could not go back to its header: the last frame tells its place and
     * its size.
     *
     * <p>A frame's sum over itself is 0, so the last frame is the shortest end of the file whose sum is 0 and which begins
     * with a header. The sum of every end is had from that of the next shorter one: the CRC-16 of n + 1 bytes is that of the
     * last n, plus the first byte times x^(8n + 16), all modulo the polynomial. The search is therefore one pass, whatever
     * the bytes are.
     */
    private static final class Length {
        /** How far back the last frame is looked for: more than one of 65 535 samples of 8 channels of 32 bits, stored plainly. */
        private static final int REACH = 1 << 22;

        private static final int POLYNOMIAL = 0x1_8005;

        private Length() {}

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
                FrameHeader frame = FrameHeader.read(() -> next(bytes));
                if (frame.counted()) {
                    return frame.number() + frame.blockSize();
                }
                return frame.number() == 0 || fixedSize > 0 ? frame.number() * fixedSize + frame.blockSize() : -1;
            } catch (Damage | EOFException e) {
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

    /**
     * The MD5 sum that a FLAC encoder leaves over all samples, interleaved, little-endian and signed, in whole bytes.
     *
     * <p>An encoder that leaves none writes zeros; then nothing is summed. Source: RFC 9639, section 8.2 (from memory).
     */
    private static final class Checksum {
        private final MessageDigest digest;
        private final byte[] expected;
        private final boolean left;
        private final int channels;
        private final int sampleBytes;
        private byte[] buffer = new byte[0];

        Checksum(Header header) {
            try {
                digest = MessageDigest.getInstance("MD5");
            } catch (NoSuchAlgorithmException e) {
                throw new IllegalStateException("every Java platform has MD5", e);
            }
            expected = header.md5();
            left = !Arrays.equals(expected, new byte[expected.length]);
            channels = header.channels();
            sampleBytes = (header.bits() + 7) / 8;
        }

        /** Adds the samples of every channel of the block decoded last. */
        void add(Blocks blocks) {
            if (!left) {
                return;
            }
            int frames = blocks.size();
            int step = channels * sampleBytes;
            if (buffer.length < frames * step) {
                buffer = new byte[frames * step];
            }
            for (int c = 0; c < channels; c++) {
                long[] samples = blocks.channel(c);
                for (int b = 0; b < sampleBytes; b++) {
                    int shift = 8 * b;
                    for (int i = 0, at = c * sampleBytes + b; i < frames; i++, at += step) {
                        buffer[at] = (byte) (samples[i] >> shift);
                    }
                }
            }
            digest.update(buffer, 0, frames * step);
        }

        /** Whether the sum agrees with the encoder's, if it left one; to be asked once, at the end. */
        boolean matches() {
            return !left || MessageDigest.isEqual(expected, digest.digest());
        }
    }

    /**
     * Decodes the frames of a FLAC file one by one. Source: RFC 9639, section 9 (from memory).
     *
     * <p>Every frame must carry its sums, fit the stream's header, follow the one before it by its number, and hold samples
     * of the stated width. Nothing is searched for behind a fault: the first one ends the reading.
     */
    private static final class Blocks {
        private final Header header;
        private final Bits in;
        private final long[][] samples;
        private long next = -1;
        private boolean counted;
        private int size;

        Blocks(Header header, FileChannel channel) {
            this.header = header;
            this.in = new Bits(channel, header.firstFrame());
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
         * @throws Damage if it cannot be decoded exactly
         * @throws java.io.EOFException if the file ends in it
         * @throws IOException if the file cannot be read
         */
        void decode() throws IOException {
            size = 0;
            in.begin();
            FrameHeader frame = FrameHeader.read(() -> (int) in.unsigned(8));
            check(frame);
            int assignment = frame.assignment();
            int block = frame.blockSize();
            for (int c = 0; c < samples.length; c++) {
                if (samples[c].length < block) {
                    samples[c] = new long[block];
                }
                boolean side = assignment == 9 ? c == 0 : assignment >= 8 && c == 1;
                Subframe.decode(in, samples[c], block, header.bits() + (side ? 1 : 0));
            }
            in.align();
            int expected = in.crc16();
            if (in.unsigned(16) != expected) {
                throw new Damage("has a sum (CRC-16) that differs");
            }
            if (assignment >= 8) {
                separate(assignment, block);
            }
            checkWidth(block);
            next = frame.number() + (counted ? block : 1);
            size = block;
        }

        private void check(FrameHeader frame) throws Damage {
            boolean fits = frame.channels() == header.channels()
                    && (frame.bits() == 0 || frame.bits() == header.bits())
                    && (frame.rate() == 0 || frame.rate() == header.sampleRate());
            if (!fits) {
                throw new Damage("does not match the header of the file in channels, bits or rate");
            }
            if (next < 0) {
                counted = frame.counted();
            } else if (frame.counted() != counted || frame.number() != next) {
                throw new Damage("has the number " + frame.number() + " where " + next + " belongs");
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

        private void checkWidth(int block) throws Damage {
            int above = header.bits() - 1;
            long beyond = 0;
            for (long[] channel : samples) {
                for (int i = 0; i < block; i++) {
                    beyond |= (channel[i] ^ channel[i] >> 63) >>> above;
                }
            }
            if (beyond != 0) {
                throw new Damage("holds samples of more than " + header.bits() + " bits");
            }
        }
    }

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
    record FrameHeader(boolean counted, long number, int blockSize, int rate, int assignment, int bits) {
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
         * @throws Damage if it is none
         * @throws IOException if the bytes end or cannot be read
         */
        static FrameHeader read(Bytes source) throws IOException {
            Reading in = new Reading(source);
            int sync = in.number(2);
            if (sync >>> 1 != 0xFFF8 >>> 1) {
                throw new Damage("does not begin with the mark of a frame");
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
                throw new Damage("has a header with reserved values");
            }
            return new FrameHeader((sync & 1) != 0, number, blockSize, rate, assignment, bits);
        }

        /** Channels of the frame. */
        int channels() {
            return assignment < 8 ? assignment + 1 : 2;
        }

        private static int blockSize(int code, Reading in) throws IOException {
            int size = switch (code) {
                case 0 -> throw new Damage("has a header with reserved values");
                case 1 -> 192;
                case 2, 3, 4, 5 -> 144 << code;
                case 6 -> in.number(1) + 1;
                case 7 -> in.number(2) + 1;
                default -> 1 << code;
            };
            if (size > 65_535) {
                throw new Damage("claims a block of " + size + " samples, more than 65535");
            }
            return size;
        }

        private static int rate(int code, Reading in) throws IOException {
            return switch (code) {
                case 12 -> 1000 * in.number(1);
                case 13 -> in.number(2);
                case 14 -> 10 * in.number(2);
                case 15 -> throw new Damage("has a header with reserved values");
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
                    throw new Damage("has no number");
                }
                long value = first & 0x7F >>> ones;
                for (int i = 1; i < ones; i++) {
                    int next = number(1);
                    if (next >>> 6 != 2) {
                        throw new Damage("has no number");
                    }
                    value = (value << 6) | (next & 0x3F);
                }
                return value;
            }

            void checkSum() throws IOException {
                int expected = Bits.crc8(kept, count);
                if (source.next() != expected) {
                    throw new Damage("has a header whose sum (CRC-8) differs");
                }
            }
        }
    }

    /**
     * Decodes the samples of one channel in one FLAC frame: constant, verbatim, or predicted from those before by a fixed
     * polynomial or by stated weights, plus a residual in Rice codes or plain numbers. Source: RFC 9639, sections 9.2.1 to
     * 9.2.7 (from memory).
     *
     * <p>All arithmetic is in 64 bits: a prediction from 32 samples of 33 bits with weights of 15 bits needs 53.
     */
    private static final class Subframe {
        /** Weights of the samples before, newest first, of the polynomials of order 0 to 4. */
        private static final int[][] POLYNOMIALS = {{}, {1}, {2, -1}, {3, -3, 1}, {4, -6, 4, -1}};

        private Subframe() {}

        /**
         * Decodes one channel.
         *
         * @param in where the subframe begins
         * @param out filled from 0 to before {@code size}
         * @param size samples, 1 to 65 535
         * @param bits bits per sample, 4 to 33
         * @throws Damage if it cannot be decoded
         * @throws IOException if the file ends or cannot be read
         */
        static void decode(Bits in, long[] out, int size, int bits) throws IOException {
            int head = (int) in.unsigned(8);
            if (head > 127) {
                throw new Damage("has a channel that does not begin with 0");
            }
            int wasted = (head & 1) == 0 ? 0 : (int) in.zeros(bits) + 1;
            int used = bits - wasted;
            if (used < 1) {
                throw new Damage("claims " + wasted + " unused bits in samples of " + bits);
            }
            int kind = head >>> 1;
            if (kind == 0) {
                Arrays.fill(out, 0, size, in.signed(used));
            } else if (kind == 1) {
                plain(in, out, 0, size, used);
            } else if (kind >= 8 && kind <= 12) {
                fixed(in, out, size, used, kind - 8);
            } else if (kind >= 32) {
                weighted(in, out, size, used, kind - 31);
            } else {
                throw new Damage("has a channel of reserved kind " + kind);
            }
            if (wasted > 0) {
                for (int i = 0; i < size; i++) {
                    out[i] <<= wasted;
                }
            }
        }

        private static void plain(Bits in, long[] out, int from, int to, int bits) throws IOException {
            for (int i = from; i < to; i++) {
                out[i] = in.signed(bits);
            }
        }

        private static void fixed(Bits in, long[] out, int size, int bits, int order) throws IOException {
            start(in, out, size, bits, order);
            residual(in, out, size, order);
            predict(out, size, POLYNOMIALS[order], 0);
        }

        private static void weighted(Bits in, long[] out, int size, int bits, int order) throws IOException {
            start(in, out, size, bits, order);
            int precision = (int) in.unsigned(4) + 1;
            int shift = (int) in.signed(5);
            if (precision == 16 || shift < 0) {
                throw new Damage("has predictor weights of reserved size");
            }
            int[] weights = new int[order];
            for (int i = 0; i < order; i++) {
                weights[i] = (int) in.signed(precision);
            }
            residual(in, out, size, order);
            predict(out, size, weights, shift);
        }

        private static void start(Bits in, long[] out, int size, int bits, int order) throws IOException {
            if (order > size) {
                throw new Damage("predicts from " + order + " samples in a block of " + size);
            }
            plain(in, out, 0, order, bits);
        }

        private static void residual(Bits in, long[] out, int size, int order) throws IOException {
            int method = (int) in.unsigned(2);
            if (method > 1) {
                throw new Damage("has a residual of reserved kind " + method);
            }
            int width = 4 + method;
            int escape = (1 << width) - 1;
            int partitions = 1 << (int) in.unsigned(4);
            int length = size / partitions;
            if (length * partitions != size || length < order) {
                throw new Damage("divides a block of " + size + " samples into " + partitions + " parts");
            }
            int from = order;
            for (int to = length; to <= size; to += length) {
                int parameter = (int) in.unsigned(width);
                if (parameter == escape) {
                    int plain = (int) in.unsigned(5);
                    if (plain == 0) {
                        Arrays.fill(out, from, to, 0);
                    } else {
                        plain(in, out, from, to, plain);
                    }
                } else {
                    in.rice(out, from, to, parameter);
                }
                from = to;
            }
        }

        /** Adds the prediction to each residual, from front to back. */
        private static void predict(long[] out, int size, int[] weights, int shift) {
            int order = weights.length;
            for (int i = order; i < size; i++) {
                long sum = 0;
                for (int k = 0; k < order; k++) {
                    sum += weights[k] * out[i - 1 - k];
                }
                out[i] += sum >> shift;
            }
        }
    }

    /**
     * The bits of a FLAC file from its first frame on, most significant bit first, with the checksum of what was read.
     *
     * <p>Memory is one buffer of 64 KiB. Nothing is read twice and nothing is searched for, so that every call ends: with its
     * value, or with {@link EOFException} at the end of the file, or with {@link Damage} where a number is too large to be
     * one.
     */
    static final class Bits {
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

        Bits(FileChannel channel, long position) {
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
         * @throws Damage if there are more
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
                    throw new Damage("holds a number that is too large");
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
                throw new Damage("does not end in zeros");
            }
        }

        /**
         * Rice codes: each value v ≥ 0 as 2v and each v &lt; 0 as −2v − 1, whose upper part is a run of zeros ended by a one and
         * whose lower {@code parameter} bits follow.
         *
         * @param out filled from {@code from} to before {@code to}
         * @param parameter 0 to 30
         * @throws Damage if a value needs more than 32 bits
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

    /** What a FLAC frame cannot hold; {@link FlacReader} adds the file, the place and the next step. */
    private static final class Damage extends IOException {
        private static final long serialVersionUID = 1L;

        /**
         * A fault of one frame.
         *
         * @param fault what is wrong, as the end of a sentence that begins with the frame
         */
        Damage(String fault) {
            super(fault);
        }
    }
}
