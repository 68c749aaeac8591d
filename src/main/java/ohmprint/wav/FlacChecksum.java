package ohmprint.wav;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Arrays;

/**
 * The MD5 sum that a FLAC encoder leaves over all samples, interleaved, little-endian and signed, in whole bytes.
 *
 * <p>An encoder that leaves none writes zeros; then nothing is summed. Source: RFC 9639, section 8.2 (from memory).
 */
final class FlacChecksum {
    private final MessageDigest digest;
    private final byte[] expected;
    private final boolean left;
    private final int channels;
    private final int sampleBytes;
    private byte[] buffer = new byte[0];

    FlacChecksum(FlacHeader header) {
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
    void add(FlacBlocks blocks) {
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
