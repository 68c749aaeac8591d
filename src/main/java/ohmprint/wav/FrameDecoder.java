package ohmprint.wav;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;

/**
 * Turns bytes of interleaved little-endian frames into doubles, exactly.
 *
 * <p>A whole block of one channel is decoded in one tight loop. The 24-bit loop reads the byte before each sample and
 * shifts it out, so {@link #LEAD} bytes must precede the first frame in the array.
 */
final class FrameDecoder {
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
