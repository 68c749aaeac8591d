package ohmprint.wav;

import java.nio.ByteBuffer;
import java.nio.file.Path;
import java.util.Map;

/** The {@code fmt} chunk of a WAV file, judged: what it says, and why it cannot be read where it cannot. */
final class FormatChunk {
    /** Bytes of a plain chunk and of an extensible one; more are never needed. */
    static final int PLAIN_BYTES = 16;

    static final int EXTENSIBLE_BYTES = 40;

    static final int PCM = 1;
    static final int FLOAT = 3;
    static final int EXTENSIBLE = 0xFFFE;

    /** The last 14 bytes of every sub-format made from a format tag, as two little-endian numbers. */
    static final long SUB_FORMAT_MIDDLE = 0x0010_0000_0000L;

    static final long SUB_FORMAT_END = 0x719B_3800_AA00_0080L;

    private static final Map<Integer, String> REFUSED = Map.of(
            0x0002, "ADPCM",
            0x0006, "A-law",
            0x0007, "µ-law",
            0x0011, "IMA ADPCM",
            0x0031, "GSM 6.10",
            0x0050, "MPEG audio",
            0x0055, "MPEG layer 3");

    private FormatChunk() {}

    /**
     * Reads the chunk.
     *
     * @param file the file, for the message
     * @param body the first bytes of the chunk, little-endian, up to {@link #EXTENSIBLE_BYTES}
     * @throws AudioFormatException if the samples cannot be read exactly
     */
    static PcmFormat parse(Path file, ByteBuffer body) throws AudioFormatException {
        if (body.remaining() < PLAIN_BYTES) {
            throw damaged(file, "has a fmt chunk of " + body.remaining() + " bytes where at least 16 belong");
        }
        int tag = body.getShort(0) & 0xFFFF;
        int channels = body.getShort(2) & 0xFFFF;
        long rate = body.getInt(4) & 0xFFFF_FFFFL;
        int blockAlign = body.getShort(12) & 0xFFFF;
        int bits = body.getShort(14) & 0xFFFF;
        int valid = bits;
        if (tag == EXTENSIBLE) {
            if (body.remaining() < EXTENSIBLE_BYTES) {
                throw damaged(
                        file, "has an extensible fmt chunk of " + body.remaining() + " bytes where 40 or more belong");
            }
            valid = body.getShort(18) & 0xFFFF;
            tag = subFormat(file, body);
            if (bits % 8 != 0) {
                throw damaged(file, "has an extensible header with containers of " + bits + " bits, not whole bytes");
            }
        }
        if (tag != PCM && tag != FLOAT) {
            String name = REFUSED.getOrDefault(tag, "unknown");
            throw new AudioFormatException(
                    file,
                    String.format("holds %s samples (format tag 0x%04X), which cannot be read exactly", name, tag),
                    "record or export it as WAV with 16-, 24- or 32-bit integer or float samples");
        }
        FormatBounds.check(file, channels, (double) rate);
        return layout(file, tag == FLOAT, channels, rate, blockAlign, bits, valid == 0 ? bits : valid);
    }

    private static PcmFormat layout(
            Path file, boolean floating, int channels, long rate, int blockAlign, int bits, int valid)
            throws AudioFormatException {
        int bytes = (bits + 7) / 8;
        boolean known = floating ? bits == 32 || bits == 64 : bits >= 1 && bits <= 32;
        if (!known) {
            throw new AudioFormatException(
                    file,
                    "holds " + (floating ? "float" : "integer") + " samples of " + bits + " bits",
                    "export it with 16-, 24- or 32-bit integer or 32- or 64-bit float samples");
        }
        if (valid > bits || (floating && valid != bits)) {
            throw damaged(file, "says " + valid + " valid bits in samples of " + bits + " bits");
        }
        if (blockAlign < channels * bytes) {
            throw damaged(
                    file,
                    "says " + blockAlign + " bytes per frame, but " + channels + " channels of " + bits + " bits need "
                            + channels * bytes);
        }
        return new PcmFormat(channels, rate, bytes, valid, floating, blockAlign);
    }

    private static int subFormat(Path file, ByteBuffer body) throws AudioFormatException {
        int tag = body.getShort(24) & 0xFFFF;
        long middle = (body.getShort(26) & 0xFFFFL) | ((body.getInt(28) & 0xFFFF_FFFFL) << 16);
        if (middle != SUB_FORMAT_MIDDLE || body.getLong(32) != SUB_FORMAT_END) {
            throw new AudioFormatException(
                    file,
                    "has an extensible header whose sub-format is not a plain format tag",
                    "export it as WAV with 16-, 24- or 32-bit integer or float samples");
        }
        return tag;
    }

    private static AudioFormatException damaged(Path file, String fault) {
        return new AudioFormatException(file, fault, "its header is damaged: copy it again or export it again as WAV");
    }
}
