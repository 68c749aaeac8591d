package ohmprint.wav;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/**
 * The header that {@link WavWriter} puts before the samples.
 *
 * <p>Form, then a chunk of 28 bytes, then {@code fmt}, then {@code fact} where the format wants it, then the header of
 * {@code data}. The chunk of 28 bytes is {@code JUNK} while the lengths fit into 32 bits and becomes {@code ds64} when
 * they no longer do, and the form RF64 (EBU Tech 3306, from memory).
 */
final class WavHeader {
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

    private ByteBuffer build(String form, int riff, String reserved, long riff64, long frames64, int frames, int data) {
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
        int tag = encoding.floating() ? FormatChunk.FLOAT : FormatChunk.PCM;
        int align = channels * encoding.bytes();
        int bits = 8 * encoding.bytes();
        id(out, "fmt ").putInt(formatBytes());
        out.putShort((short) (extensible ? FormatChunk.EXTENSIBLE : tag)).putShort((short) channels);
        out.putInt(sampleRate).putInt((int) Math.min((long) sampleRate * align, 0xFFFF_FFFFL));
        out.putShort((short) align).putShort((short) bits);
        if (extensible) {
            out.putShort((short) 22).putShort((short) bits).putInt(speakers());
            out.putShort((short) tag);
            out.putShort((short) FormatChunk.SUB_FORMAT_MIDDLE).putInt((int) (FormatChunk.SUB_FORMAT_MIDDLE >>> 16));
            out.putLong(FormatChunk.SUB_FORMAT_END);
        } else if (encoding.floating()) {
            out.putShort((short) 0);
        }
    }

    private int formatBytes() {
        return extensible ? FormatChunk.EXTENSIBLE_BYTES : FormatChunk.PLAIN_BYTES + (encoding.floating() ? 2 : 0);
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
