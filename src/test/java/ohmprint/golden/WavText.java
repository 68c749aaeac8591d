package ohmprint.golden;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.Locale;

/** A WAV file in words: format, length, and the mean square of each tenth of a second of each channel. */
final class WavText {
    private static final int HEADER = 12;
    private static final int CHUNK = 8;

    private WavText() {}

    static String of(byte[] bytes) {
        ByteBuffer in = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
        StringBuilder out = new StringBuilder(bytes.length + " bytes\n");
        int kind = 0;
        int channels = 0;
        int rate = 0;
        int bits = 0;
        for (int at = HEADER; at + CHUNK <= bytes.length; ) {
            String name = new String(bytes, at, 4, StandardCharsets.US_ASCII);
            int size = in.getInt(at + 4);
            int from = at + CHUNK;
            if (name.equals("fmt ")) {
                kind = in.getShort(from);
                channels = in.getShort(from + 2);
                rate = in.getInt(from + 4);
                bits = in.getShort(from + 14);
                out.append(String.format(
                        "format %04x, %d channels, %d Hz, %d bits%n", kind & 0xFFFF, channels, rate, bits));
            } else if (name.equals("data")) {
                levels(in, from, Math.min(size, bytes.length - from), channels, rate, bits, out);
            } else {
                out.append(name).append(", ").append(size).append(" bytes\n");
            }
            at = from + size + size % 2;
        }
        return out.toString();
    }

    private static void levels(ByteBuffer in, int from, int size, int channels, int rate, int bits, StringBuilder out) {
        int frames = size / (channels * bits / 8);
        out.append(frames).append(" frames\n");
        int block = rate / 10;
        for (int first = 0; first < frames; first += block) {
            int last = Math.min(frames, first + block);
            double[] power = new double[channels];
            for (int i = first; i < last; i++) {
                for (int c = 0; c < channels; c++) {
                    double x = sample(in, from + (i * channels + c) * (bits / 8), bits);
                    power[c] += x * x / (last - first);
                }
            }
            for (double p : power) {
                out.append(String.format(Locale.ROOT, "%.5e ", Math.sqrt(p)));
            }
            out.append('\n');
        }
    }

    private static double sample(ByteBuffer in, int at, int bits) {
        return switch (bits) {
            case 16 -> in.getShort(at) / 32768.0;
            case 24 -> ((in.get(at + 2) << 16) | (in.get(at + 1) & 0xFF) << 8 | in.get(at) & 0xFF) / 8388608.0;
            case 32 -> in.getFloat(at);
            default -> throw new IllegalArgumentException(bits + " bits");
        };
    }
}
