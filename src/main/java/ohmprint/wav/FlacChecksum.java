package ohmprint.wav;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Arrays;
import org.jflac.ChannelData;

/**
 * The MD5 sum that a FLAC encoder leaves over all samples, interleaved, little-endian and signed, in whole bytes.
 *
 * <p>An encoder that leaves none writes zeros. Source: RFC 9639, section 8.2 (from memory).
 */
final class FlacChecksum {
    private final MessageDigest digest;
    private final byte[] expected;
    private final int channels;
    private final int sampleBytes;
    private byte[] buffer = new byte[0];

    FlacChecksum(FlacHeader header) {
        try {
            digest = MessageDigest.getInstance("MD5");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has MD5", e);
        }
        expected = Arrays.copyOfRange(header.bytes(), FlacHeader.BYTES - 16, FlacHeader.BYTES);
        channels = header.channels();
        sampleBytes = (header.bits() + 7) / 8;
    }

    /** Adds the first {@code frames} samples of every channel. */
    void add(ChannelData[] block, int frames) {
        int size = frames * channels * sampleBytes;
        if (buffer.length < size) {
            buffer = new byte[size];
        }
        for (int c = 0; c < channels; c++) {
            int[] samples = block[c].getOutput();
            for (int i = 0; i < frames; i++) {
                int at = (i * channels + c) * sampleBytes;
                for (int b = 0; b < sampleBytes; b++) {
                    buffer[at + b] = (byte) (samples[i] >> (8 * b));
                }
            }
        }
        digest.update(buffer, 0, size);
    }

    /** Whether the sum agrees with the encoder's, if it left one; to be asked once, at the end. */
    boolean matches() {
        return Arrays.equals(expected, new byte[16]) || MessageDigest.isEqual(expected, digest.digest());
    }
}
