package ohmprint.wav;

import java.io.Closeable;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

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
}
