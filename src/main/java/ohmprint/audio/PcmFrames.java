package ohmprint.audio;

/** Signed little-endian integers as a line carries them, to and from samples relative to full scale. */
final class PcmFrames {
    private final int channels;
    private final int bytes;
    private final double steps;

    /**
     * Frames of a line.
     *
     * @param channels samples per frame
     * @param bits 16, 24 or 32
     */
    PcmFrames(int channels, int bits) {
        this.channels = channels;
        this.bytes = bits / 8;
        this.steps = Math.scalb(1.0, bits - 1);
    }

    /** Bytes of a frame. */
    int frameBytes() {
        return channels * bytes;
    }

    /** Reads frames: {@code v / 2^(n−1)}, exactly. */
    void decode(byte[] from, int frames, double[][] into) {
        int at = 0;
        for (int i = 0; i < frames; i++) {
            for (int c = 0; c < channels; c++) {
                int value = from[at + bytes - 1];
                for (int b = bytes - 2; b >= 0; b--) {
                    value = (value << 8) | (from[at + b] & 0xFF);
                }
                into[c][i] = value / steps;
                at += bytes;
            }
        }
    }

    /** Writes one sample to all channels of a frame each; rounded to the nearest step, limited to full scale. */
    void encode(double[] samples, int from, int frames, byte[] into) {
        int at = 0;
        for (int i = 0; i < frames; i++) {
            double scaled = Math.rint(samples[from + i] * steps);
            int value = (int) Math.max(-steps, Math.min(steps - 1, scaled));
            for (int c = 0; c < channels; c++) {
                for (int b = 0; b < bytes; b++) {
                    into[at++] = (byte) (value >> (8 * b));
                }
            }
        }
    }
}
