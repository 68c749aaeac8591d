package ohmprint.wav;

import java.io.IOException;
import java.util.Arrays;

/**
 * Decodes the samples of one channel in one FLAC frame: constant, verbatim, or predicted from those before by a fixed
 * polynomial or by stated weights, plus a residual in Rice codes or plain numbers. Source: RFC 9639, sections 9.2.1 to
 * 9.2.7 (from memory).
 *
 * <p>All arithmetic is in 64 bits: a prediction from 32 samples of 33 bits with weights of 15 bits needs 53.
 */
final class FlacSubframe {
    /** Weights of the samples before, newest first, of the polynomials of order 0 to 4. */
    private static final int[][] POLYNOMIALS = {{}, {1}, {2, -1}, {3, -3, 1}, {4, -6, 4, -1}};

    private FlacSubframe() {}

    /**
     * Decodes one channel.
     *
     * @param in where the subframe begins
     * @param out filled from 0 to before {@code size}
     * @param size samples, 1 to 65 535
     * @param bits bits per sample, 4 to 33
     * @throws FlacDamage if it cannot be decoded
     * @throws IOException if the file ends or cannot be read
     */
    static void decode(FlacBits in, long[] out, int size, int bits) throws IOException {
        int head = (int) in.unsigned(8);
        if (head > 127) {
            throw new FlacDamage("has a channel that does not begin with 0");
        }
        int wasted = (head & 1) == 0 ? 0 : (int) in.zeros(bits) + 1;
        int used = bits - wasted;
        if (used < 1) {
            throw new FlacDamage("claims " + wasted + " unused bits in samples of " + bits);
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
            throw new FlacDamage("has a channel of reserved kind " + kind);
        }
        if (wasted > 0) {
            for (int i = 0; i < size; i++) {
                out[i] <<= wasted;
            }
        }
    }

    private static void plain(FlacBits in, long[] out, int from, int to, int bits) throws IOException {
        for (int i = from; i < to; i++) {
            out[i] = in.signed(bits);
        }
    }

    private static void fixed(FlacBits in, long[] out, int size, int bits, int order) throws IOException {
        start(in, out, size, bits, order);
        residual(in, out, size, order);
        predict(out, size, POLYNOMIALS[order], 0);
    }

    private static void weighted(FlacBits in, long[] out, int size, int bits, int order) throws IOException {
        start(in, out, size, bits, order);
        int precision = (int) in.unsigned(4) + 1;
        int shift = (int) in.signed(5);
        if (precision == 16 || shift < 0) {
            throw new FlacDamage("has predictor weights of reserved size");
        }
        int[] weights = new int[order];
        for (int i = 0; i < order; i++) {
            weights[i] = (int) in.signed(precision);
        }
        residual(in, out, size, order);
        predict(out, size, weights, shift);
    }

    private static void start(FlacBits in, long[] out, int size, int bits, int order) throws IOException {
        if (order > size) {
            throw new FlacDamage("predicts from " + order + " samples in a block of " + size);
        }
        plain(in, out, 0, order, bits);
    }

    private static void residual(FlacBits in, long[] out, int size, int order) throws IOException {
        int method = (int) in.unsigned(2);
        if (method > 1) {
            throw new FlacDamage("has a residual of reserved kind " + method);
        }
        int width = 4 + method;
        int escape = (1 << width) - 1;
        int partitions = 1 << (int) in.unsigned(4);
        int length = size / partitions;
        if (length * partitions != size || length < order) {
            throw new FlacDamage("divides a block of " + size + " samples into " + partitions + " parts");
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
