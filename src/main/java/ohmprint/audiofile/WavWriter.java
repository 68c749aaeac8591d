package ohmprint.audiofile;

import java.io.Closeable;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;

/**
 * Writes a WAV file as a stream.
 *
 * <p>Integers of more than 16 bits and more than two channels get an extensible header. The header is written with unknown lengths
 * first, and with the true ones by {@link #flush} and {@link #close}; after a crash the file can be read up to the last
 * flush, or all of it if there was none. Beyond 4 GiB the file becomes RF64 in the room its header keeps for that.
 *
 * <p>Integers are rounded to the nearest step, with triangular dither if asked for. A sample beyond full scale (±1) is an
 * error when it is to be stored as an integer: clipped sound would be measured as if it were true. Floats may exceed it.
 * NaN and infinity are errors. Not for use by several threads at once.
 */
public final class WavWriter implements Closeable {
    /** Largest RIFF length: four ones would mean "unknown", and lengths are even. */
    private static final long LARGEST_RIFF = 0xFFFF_FFFEL;

    private static final int BLOCK_BYTES = 1 << 18;

    private final Path file;
    private final FileChannel channel;
    private final int channels;
    private final WavEncoding encoding;
    private final WavHeader header;
    private final Quantiser quantiser;
    private final long largestRiff;
    private final ByteBuffer block;
    private long frames;

    WavWriter(Path file, int channels, int sampleRate, WavEncoding encoding, Quantiser quantiser, long largestRiff)
            throws IOException {
        if (channels < 1 || channels * encoding.bytes() > 0xFFFF) {
            throw new IllegalArgumentException("a WAV file of " + encoding + " holds 1 to " + 0xFFFF / encoding.bytes()
                    + " channels, not " + channels + "; write fewer");
        }
        if (sampleRate < 1) {
            throw new IllegalArgumentException(
                    "a sample rate is positive, not " + sampleRate + " Hz; use for example 48000");
        }
        this.file = file;
        this.channels = channels;
        this.encoding = encoding;
        this.header = new WavHeader(channels, sampleRate, encoding);
        this.quantiser = quantiser;
        this.largestRiff = largestRiff;
        int align = channels * encoding.bytes();
        this.block =
                ByteBuffer.allocate(Math.max(1, BLOCK_BYTES / align) * align).order(ByteOrder.LITTLE_ENDIAN);
        this.channel = FileChannel.open(
                file, StandardOpenOption.CREATE, StandardOpenOption.TRUNCATE_EXISTING, StandardOpenOption.WRITE);
        try {
            put(header.open(), 0);
        } catch (IOException e) {
            channel.close();
            throw e;
        }
    }

    /**
     * Begins a file; an existing one is replaced.
     *
     * @param file the file
     * @param channels samples per frame, positive
     * @param sampleRateHz frames per second, in hertz, positive
     * @param encoding how samples are stored
     * @throws IllegalArgumentException if a WAV header cannot say that
     * @throws IOException if the file cannot be written
     */
    public static WavWriter create(Path file, int channels, int sampleRateHz, WavEncoding encoding) throws IOException {
        Quantiser quantiser = new Quantiser(bits(encoding));
        return new WavWriter(file, channels, sampleRateHz, encoding, quantiser, LARGEST_RIFF);
    }

    /**
     * Begins a file of integers with triangular dither; an existing one is replaced.
     *
     * @param file the file
     * @param channels samples per frame, positive
     * @param sampleRateHz frames per second, in hertz, positive
     * @param encoding how samples are stored; an integer encoding
     * @param seed the same seed gives the same dither
     * @throws IllegalArgumentException if a WAV header cannot say that, or the encoding is a float
     * @throws IOException if the file cannot be written
     */
    public static WavWriter createDithered(Path file, int channels, int sampleRateHz, WavEncoding encoding, long seed)
            throws IOException {
        if (encoding.floating()) {
            throw new IllegalArgumentException("floats need no dither; use an integer encoding, or create");
        }
        Quantiser quantiser = Quantiser.dithered(bits(encoding), seed);
        return new WavWriter(file, channels, sampleRateHz, encoding, quantiser, LARGEST_RIFF);
    }

    /** Bits of an integer; floats are not rounded. */
    private static int bits(WavEncoding encoding) {
        return Math.min(32, 8 * encoding.bytes());
    }

    /** Frames written so far. */
    public long frames() {
        return frames;
    }

    /**
     * Appends frames.
     *
     * @param from one array per channel, relative to full scale
     * @param offset first index to take
     * @param count frames to write
     * @throws AudioFormatException if a sample is not finite, or beyond full scale and to be stored as an integer; frames
     *     before it may have been written
     * @throws IOException if the file cannot be written
     */
    public void write(double[][] from, int offset, int count) throws IOException {
        if (from.length != channels) {
            throw new IllegalArgumentException(
                    file + " has " + channels + " channels, not " + from.length + "; pass one array per channel");
        }
        int align = channels * encoding.bytes();
        int most = block.capacity() / align;
        for (int done = 0; done < count; ) {
            int now = Math.min(most, count - done);
            block.clear();
            for (int c = 0; c < channels; c++) {
                encode(from[c], offset + done, now, c);
            }
            put(block.position(0).limit(now * align), header.size() + frames * align);
            frames += now;
            done += now;
        }
    }

    /**
     * Brings the header up to date, so that a crash from here on loses nothing written so far.
     *
     * @throws IOException if the file cannot be written
     */
    public void flush() throws IOException {
        put(header.of(frames, largestRiff), 0);
        channel.force(false);
    }

    /**
     * Completes the header and closes the file.
     *
     * @throws IOException if the file cannot be written
     */
    @Override
    public void close() throws IOException {
        if (!channel.isOpen()) {
            return;
        }
        try (channel) {
            long size = frames * channels * encoding.bytes();
            if (size % 2 != 0) {
                put(ByteBuffer.allocate(1), header.size() + size);
            }
            put(header.of(frames, largestRiff), 0);
        }
    }

    private void encode(double[] samples, int offset, int count, int c) throws AudioFormatException {
        int step = channels * encoding.bytes();
        int at = c * encoding.bytes();
        double most = encoding == WavEncoding.FLOAT_32
                ? Float.MAX_VALUE
                : encoding == WavEncoding.FLOAT_64 ? Double.MAX_VALUE : 1;
        for (int i = 0; i < count; i++, at += step) {
            double sample = samples[offset + i];
            if (!(Math.abs(sample) <= most)) {
                throw beyond(sample, frames + i, c);
            }
            switch (encoding) {
                case PCM_8 -> block.put(at, (byte) (quantiser.quantise(sample) + 128));
                case PCM_16 -> block.putShort(at, (short) quantiser.quantise(sample));
                case PCM_24 -> {
                    int value = quantiser.quantise(sample);
                    block.putShort(at, (short) value).put(at + 2, (byte) (value >> 16));
                }
                case PCM_32 -> block.putInt(at, quantiser.quantise(sample));
                case FLOAT_32 -> block.putFloat(at, (float) sample);
                case FLOAT_64 -> block.putDouble(at, sample);
            }
        }
    }

    private AudioFormatException beyond(double sample, long frame, int c) {
        return new AudioFormatException(
                file,
                "cannot store " + sample + " × full scale at frame " + frame + ", channel " + (c + 1) + ", as "
                        + encoding,
                encoding.floating() ? "check where this sample comes from" : "lower the level, or write floats");
    }

    private void put(ByteBuffer bytes, long position) throws IOException {
        long at = position;
        while (bytes.hasRemaining()) {
            at += channel.write(bytes, at);
        }
    }

    /**
     * The header that {@link WavWriter} puts before the samples.
     *
     * <p>Form, then a chunk of 28 bytes, then {@code fmt}, then {@code fact} where the format wants it, then the header of
     * {@code data}. The chunk of 28 bytes is {@code JUNK} while the lengths fit into 32 bits and becomes {@code ds64} when
     * they no longer do, and the form RF64 (EBU Tech 3306, from memory).
     */
    static final class WavHeader {
        private static final int UNKNOWN = -1;
        private static final int RESERVED = 28;

        private final int channels;
        private final int sampleRate;
        private final WavEncoding encoding;
        private final boolean extensible;
        private final boolean fact;

        WavHeader(int channels, int sampleRate, WavEncoding encoding) {
            this.channels = channels;
            this.sampleRate = sampleRate;
            this.encoding = encoding;
            this.extensible = channels > 2 || (!encoding.floating() && encoding.bytes() > 2);
            this.fact = encoding.floating();
        }

        /** Bytes before the first sample. */
        int size() {
            return 12 + 8 + RESERVED + 8 + formatBytes() + (fact ? 12 : 0) + 8;
        }

        /** A header that does not know its lengths yet. */
        ByteBuffer open() {
            return build("RIFF", UNKNOWN, "JUNK", 0, 0, UNKNOWN, UNKNOWN);
        }

        /**
         * A header for a number of frames.
         *
         * @param frames frames written
         * @param limit largest length of the file after its first 8 bytes that is still written as RIFF
         */
        ByteBuffer of(long frames, long limit) {
            long data = frames * channels * encoding.bytes();
            long riff = size() - 8 + data + data % 2;
            if (riff <= limit) {
                return build("RIFF", (int) riff, "JUNK", 0, 0, (int) frames, (int) data);
            }
            return build("RF64", UNKNOWN, "ds64", riff, frames, UNKNOWN, UNKNOWN);
        }

        private ByteBuffer build(
                String form, int riff, String reserved, long riff64, long frames64, int frames, int data) {
            ByteBuffer out = ByteBuffer.allocate(size()).order(ByteOrder.LITTLE_ENDIAN);
            id(out, form).putInt(riff);
            id(out, "WAVE");
            id(out, reserved).putInt(RESERVED);
            out.putLong(riff64)
                    .putLong(frames64 * channels * encoding.bytes())
                    .putLong(frames64)
                    .putInt(0);
            format(out);
            if (fact) {
                id(out, "fact").putInt(4).putInt(frames);
            }
            id(out, "data").putInt(data);
            return out.flip();
        }

        private void format(ByteBuffer out) {
            int tag = encoding.floating() ? WavReader.FormatChunk.FLOAT : WavReader.FormatChunk.PCM;
            int align = channels * encoding.bytes();
            int bits = 8 * encoding.bytes();
            id(out, "fmt ").putInt(formatBytes());
            out.putShort((short) (extensible ? WavReader.FormatChunk.EXTENSIBLE : tag))
                    .putShort((short) channels);
            out.putInt(sampleRate).putInt((int) Math.min((long) sampleRate * align, 0xFFFF_FFFFL));
            out.putShort((short) align).putShort((short) bits);
            if (extensible) {
                out.putShort((short) 22).putShort((short) bits).putInt(speakers());
                out.putShort((short) tag);
                out.putShort((short) WavReader.FormatChunk.SUB_FORMAT_MIDDLE)
                        .putInt((int) (WavReader.FormatChunk.SUB_FORMAT_MIDDLE >>> 16));
                out.putLong(WavReader.FormatChunk.SUB_FORMAT_END);
            } else if (encoding.floating()) {
                out.putShort((short) 0);
            }
        }

        private int formatBytes() {
            return extensible
                    ? WavReader.FormatChunk.EXTENSIBLE_BYTES
                    : WavReader.FormatChunk.PLAIN_BYTES + (encoding.floating() ? 2 : 0);
        }

        /** One channel is the centre, two are left and right, more belong to no loudspeaker. */
        private int speakers() {
            return switch (channels) {
                case 1 -> 4;
                case 2 -> 3;
                default -> 0;
            };
        }

        private static ByteBuffer id(ByteBuffer out, String id) {
            return out.put(id.getBytes(StandardCharsets.US_ASCII));
        }
    }

    /**
     * Rounds samples to integers of n bits.
     *
     * <p>{@code v = round(x·2^(n−1) + d)}, halves to even, limited to {@code −2^(n−1) … 2^(n−1)−1}: full scale itself is one
     * step above the largest integer and is stored as that. {@code d} is 0, or triangular dither: the sum of two numbers
     * uniform within ±½ step, which makes the error's mean and variance independent of the sample.
     */
    static final class Quantiser {
        private final double steps;
        private final @Nullable SplittableRandom random;

        /**
         * A quantiser without dither.
         *
         * @param bits bits per sample n
         */
        Quantiser(int bits) {
            this(bits, null);
        }

        private Quantiser(int bits, @Nullable SplittableRandom random) {
            this.steps = Math.scalb(1.0, bits - 1);
            this.random = random;
        }

        /**
         * A quantiser with triangular dither.
         *
         * @param bits bits per sample n
         * @param seed the same seed gives the same dither
         */
        static Quantiser dithered(int bits, long seed) {
            return new Quantiser(bits, new SplittableRandom(seed));
        }

        /** The integer for a sample within ±1. */
        int quantise(double sample) {
            double dither = random == null ? 0 : random.nextDouble() + random.nextDouble() - 1;
            return (int) Math.max(-steps, Math.min(steps - 1, Math.rint(sample * steps + dither)));
        }
    }
}
