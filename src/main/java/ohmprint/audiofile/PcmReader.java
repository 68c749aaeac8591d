package ohmprint.audiofile;

import java.io.EOFException;
import java.io.IOException;
import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import ohmprint.dsp.SampleSource;

/**
 * Reads uncompressed samples from a file whose layout is known.
 *
 * <p>Memory is one block of about 256 KiB whatever the header claims; skipping moves the position and reads nothing. Not
 * for use by several threads at once.
 */
abstract class PcmReader implements SampleSource {
    private static final int BLOCK_BYTES = 1 << 18;

    private final Path file;
    private final FileChannel channel;
    private final PcmLayout layout;
    private final PcmFormat format;
    private final FrameDecoder decoder;
    private final int blockFrames;
    private byte[] block = new byte[0];
    private long position;

    PcmReader(Path file, FileChannel channel, PcmLayout layout) {
        this.file = file;
        this.channel = channel;
        this.layout = layout;
        this.format = layout.format();
        this.decoder = new FrameDecoder(format);
        this.blockFrames = Math.max(1, BLOCK_BYTES / format.blockAlign());
    }

    /**
     * Makes a block of raw frames little-endian and 8-bit samples unsigned, and checks it.
     *
     * @param block the frames, from {@link FrameDecoder#LEAD} on
     * @param frames how many
     * @param position index of the first
     */
    abstract void prepare(byte[] block, int frames, long position) throws AudioFormatException;

    @Override
    public final int channels() {
        return format.channels();
    }

    @Override
    public final double sampleRate() {
        return format.sampleRate();
    }

    /** Frames that can be read; of a file cut short, those that are there. */
    @Override
    public final long frames() {
        return layout.frames();
    }

    /** Bits of a sample that carry sound, for example 24 of a 24-bit sample in a 32-bit container. */
    public final int bits() {
        return format.validBits();
    }

    /** Whether the samples are stored as IEEE 754 floats. */
    public final boolean floating() {
        return format.floating();
    }

    @Override
    public final int read(double[][] into, int offset, int count) throws IOException {
        int wanted = (int) Math.min(count, frames() - position);
        int done = 0;
        while (done < wanted) {
            int now = Math.min(blockFrames, wanted - done);
            readBlock(now);
            if (!decoder.decode(block, now, into, offset + done)) {
                throw notFinite(into, offset + done, now);
            }
            position += now;
            done += now;
        }
        return done;
    }

    @Override
    public final long skip(long count) {
        long skipped = Math.min(count, frames() - position);
        position += skipped;
        return skipped;
    }

    @Override
    public final void close() throws IOException {
        channel.close();
    }

    private void readBlock(int now) throws IOException {
        int size = now * format.blockAlign();
        if (block.length < FrameDecoder.LEAD + size) {
            block = new byte[FrameDecoder.LEAD + size];
        }
        long from = layout.dataStart() + position * format.blockAlign();
        try {
            FileBytes.fill(channel, from, ByteBuffer.wrap(block, FrameDecoder.LEAD, size));
        } catch (EOFException e) {
            throw new AudioFormatException(
                    file,
                    "became shorter while it was read: frame " + position + " of " + frames() + " is gone",
                    "let the program that writes it finish, then try again",
                    e);
        }
        prepare(block, now, position);
    }

    private AudioFormatException notFinite(double[][] into, int offset, int count) {
        for (int frame = 0; frame < count; frame++) {
            for (int c = 0; c < channels(); c++) {
                double value = into[c][offset + frame];
                if (!Double.isFinite(value)) {
                    return new AudioFormatException(
                            file,
                            "holds " + value + " instead of a sample at frame " + (position + frame) + ", channel "
                                    + (c + 1),
                            "record the take again, or repair that place and export it again");
                }
            }
        }
        throw new IllegalStateException("no sample of this block is infinite or NaN");
    }

    /**
     * How the frames of a file are laid out.
     *
     * @param channels samples per frame, at least 1
     * @param sampleRate frames per second, in hertz, positive
     * @param sampleBytes bytes per sample: 1 to 4 for integers, 4 or 8 for floats
     * @param validBits bits of a sample that carry sound, at most {@code 8·sampleBytes}
     * @param floating whether samples are IEEE 754 floats
     * @param blockAlign bytes per frame, at least {@code channels·sampleBytes}
     */
    record PcmFormat(
            int channels, double sampleRate, int sampleBytes, int validBits, boolean floating, int blockAlign) {
        /**
         * Whether the samples might as well sit in 32-bit containers: the spare bytes of a frame are as many as would widen
         * every sample to 4 bytes.
         */
        boolean couldBeWidened() {
            return sampleBytes < 4 && blockAlign == 4 * channels;
        }
    }

    /**
     * Where the samples of a file lie.
     *
     * @param format layout of one frame
     * @param dataStart first byte of the first frame
     * @param dataLength bytes of samples that are there
     * @param promisedLength bytes of samples that the header promises; equal to {@code dataLength} unless the file is cut
     */
    record PcmLayout(PcmFormat format, long dataStart, long dataLength, long promisedLength) {
        /** Whole frames that are there. */
        long frames() {
            return dataLength / format.blockAlign();
        }

        /** Whole frames that the header promises. */
        long promisedFrames() {
            return promisedLength / format.blockAlign();
        }

        /** Whether the file ends before the samples do. */
        boolean truncated() {
            return promisedLength > dataLength;
        }

        /**
         * This layout, if nothing is missing.
         *
         * @throws AudioFormatException if the file ends before the samples do
         */
        PcmLayout complete(Path file) throws AudioFormatException {
            if (truncated()) {
                throw new AudioFormatException(
                        file,
                        "is cut short: its header promises " + promisedLength + " bytes of samples (" + promisedFrames()
                                + " frames), " + dataLength + " bytes (" + frames() + " frames) are there",
                        "copy it again from where it was recorded, or record the take again");
            }
            return this;
        }
    }

    /**
     * Turns bytes of interleaved little-endian frames into doubles, exactly.
     *
     * <p>A whole block of one channel is decoded in one tight loop. The 24-bit loop reads the byte before each sample and
     * shifts it out, so {@link #LEAD} bytes must precede the first frame in the array.
     */
    static final class FrameDecoder {
        /** Bytes that must be there before the first frame. */
        static final int LEAD = 4;

        private static final VarHandle SHORT = view(short[].class);
        private static final VarHandle INT = view(int[].class);
        private static final VarHandle FLOAT = view(float[].class);
        private static final VarHandle DOUBLE = view(double[].class);

        private final PcmFormat format;
        private final int shift;
        private final double scale;

        FrameDecoder(PcmFormat format) {
            this.format = format;
            this.shift = 8 * format.sampleBytes() - format.validBits();
            this.scale = format.floating() ? 1 : Math.scalb(1.0, 1 - format.validBits());
        }

        /**
         * Decodes frames.
         *
         * @param bytes interleaved frames from {@link #LEAD} on
         * @param frames how many
         * @param into one array per channel
         * @param offset first index to fill
         * @return whether every sample is a finite number
         */
        boolean decode(byte[] bytes, int frames, double[][] into, int offset) {
            boolean finite = true;
            for (int channel = 0; channel < format.channels(); channel++) {
                int at = LEAD + channel * format.sampleBytes();
                double[] out = into[channel];
                if (format.floating()) {
                    finite &= format.sampleBytes() == 4
                            ? floats(bytes, at, frames, out, offset)
                            : doubles(bytes, at, frames, out, offset);
                } else {
                    switch (format.sampleBytes()) {
                        case 1 -> unsignedBytes(bytes, at, frames, out, offset);
                        case 2 -> shorts(bytes, at, frames, out, offset);
                        case 3 -> triples(bytes, at, frames, out, offset);
                        default -> ints(bytes, at, frames, out, offset);
                    }
                }
            }
            return finite;
        }

        private void unsignedBytes(byte[] bytes, int at, int frames, double[] out, int offset) {
            int step = format.blockAlign();
            for (int i = 0, p = at; i < frames; i++, p += step) {
                out[offset + i] = (((bytes[p] & 0xFF) - 128) >> shift) * scale;
            }
        }

        private void shorts(byte[] bytes, int at, int frames, double[] out, int offset) {
            int step = format.blockAlign();
            for (int i = 0, p = at; i < frames; i++, p += step) {
                out[offset + i] = ((short) SHORT.get(bytes, p) >> shift) * scale;
            }
        }

        private void triples(byte[] bytes, int at, int frames, double[] out, int offset) {
            int step = format.blockAlign();
            int down = 8 + shift;
            for (int i = 0, p = at - 1; i < frames; i++, p += step) {
                out[offset + i] = ((int) INT.get(bytes, p) >> down) * scale;
            }
        }

        private void ints(byte[] bytes, int at, int frames, double[] out, int offset) {
            int step = format.blockAlign();
            for (int i = 0, p = at; i < frames; i++, p += step) {
                out[offset + i] = ((int) INT.get(bytes, p) >> shift) * scale;
            }
        }

        private boolean floats(byte[] bytes, int at, int frames, double[] out, int offset) {
            int step = format.blockAlign();
            // 0·x is 0 for every finite x and NaN otherwise: one sum instead of a branch per sample
            float sum = 0;
            for (int i = 0, p = at; i < frames; i++, p += step) {
                float value = (float) FLOAT.get(bytes, p);
                sum += 0 * value;
                out[offset + i] = value;
            }
            return sum == 0;
        }

        private boolean doubles(byte[] bytes, int at, int frames, double[] out, int offset) {
            int step = format.blockAlign();
            double sum = 0;
            for (int i = 0, p = at; i < frames; i++, p += step) {
                double value = (double) DOUBLE.get(bytes, p);
                sum += 0 * value;
                out[offset + i] = value;
            }
            return sum == 0;
        }

        private static VarHandle view(Class<?> arrayClass) {
            return MethodHandles.byteArrayViewVarHandle(arrayClass, ByteOrder.LITTLE_ENDIAN);
        }
    }
}
