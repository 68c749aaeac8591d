package ohmprint.audiofile;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/** A WAV file put together byte by byte, right or wrong. */
final class WavBytes {
    private static final byte[] GUID_END = {
        0, 0, 0, 0, 0x10, 0, (byte) 0x80, 0, 0, (byte) 0xAA, 0, 0x38, (byte) 0x9B, 0x71
    };

    private final String form;
    private final ByteArrayOutputStream chunks = new ByteArrayOutputStream();

    WavBytes(String form) {
        this.form = form;
    }

    static WavBytes riff() {
        return new WavBytes("RIFF");
    }

    static ByteBuffer little(int size) {
        return ByteBuffer.allocate(size).order(ByteOrder.LITTLE_ENDIAN);
    }

    /** A fmt chunk of 16 bytes. */
    WavBytes fmt(int tag, int channels, int rate, int blockAlign, int bits) {
        ByteBuffer b =
                little(16).putShort((short) tag).putShort((short) channels).putInt(rate);
        b.putInt(rate * blockAlign).putShort((short) blockAlign).putShort((short) bits);
        return chunk("fmt ", b.array());
    }

    /** A fmt chunk of 40 bytes. */
    WavBytes extensible(int subTag, int channels, int rate, int containerBits, int validBits) {
        int align = channels * containerBits / 8;
        ByteBuffer b =
                little(40).putShort((short) 0xFFFE).putShort((short) channels).putInt(rate);
        b.putInt(rate * align).putShort((short) align).putShort((short) containerBits);
        b.putShort((short) 22)
                .putShort((short) validBits)
                .putInt(0)
                .putShort((short) subTag)
                .put(GUID_END);
        return chunk("fmt ", b.array());
    }

    /** The ds64 chunk, with a table of one entry if {@code id} is not empty. */
    WavBytes ds64(long data, String id, long size) {
        ByteBuffer b = little(id.isEmpty() ? 28 : 40).putLong(0).putLong(data).putLong(0);
        b.putInt(id.isEmpty() ? 0 : 1);
        if (!id.isEmpty()) {
            b.put(id.getBytes(StandardCharsets.US_ASCII)).putLong(size);
        }
        return chunk("ds64", b.array());
    }

    WavBytes chunk(String id, byte... body) {
        return chunkOf(id, body.length, body);
    }

    /** A chunk whose header gives some other length. */
    WavBytes chunkOf(String id, long size, byte... body) {
        raw(id.getBytes(StandardCharsets.US_ASCII))
                .raw(little(4).putInt((int) size).array());
        raw(body);
        return body.length % 2 == 1 ? raw((byte) 0) : this;
    }

    WavBytes raw(byte... bytes) {
        chunks.writeBytes(bytes);
        return this;
    }

    byte[] bytes() {
        byte[] body = chunks.toByteArray();
        ByteBuffer b = little(12 + body.length).put(form.getBytes(StandardCharsets.US_ASCII));
        int size = form.equals("RIFF") ? 4 + body.length : -1;
        return b.putInt(size)
                .put("WAVE".getBytes(StandardCharsets.US_ASCII))
                .put(body)
                .array();
    }
}
