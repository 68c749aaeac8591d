package ohmprint.wav;

import java.nio.ByteBuffer;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;

/**
 * The {@code ds64} chunk of an RF64 or BW64 file: the lengths that do not fit into 32 bits.
 *
 * <p>Layout: RIFF length, data length and sample count (64 bits each), number of table entries (32 bits), then entries
 * of a chunk identifier and its 64-bit length. Source: EBU Tech 3306 (from memory).
 */
final class LargeSizes {
    /** Bytes of the fixed part. */
    static final int FIXED_BYTES = 28;

    /** Room for 1000 table entries. */
    static final int MOST_BYTES = FIXED_BYTES + 12 * 1000;

    private final long dataSize;
    private final Map<String, Long> table;

    private LargeSizes(long dataSize, Map<String, Long> table) {
        this.dataSize = dataSize;
        this.table = table;
    }

    static LargeSizes parse(Path file, ByteBuffer body) throws AudioFormatException {
        if (body.remaining() < 24) {
            throw damaged(file, "has a ds64 chunk of " + body.remaining() + " bytes where at least 24 belong");
        }
        long dataSize = body.getLong(8);
        if (dataSize < -1) {
            throw damaged(file, "promises " + Long.toUnsignedString(dataSize) + " bytes of samples");
        }
        Map<String, Long> table = new HashMap<>();
        long entries = body.remaining() < FIXED_BYTES ? 0 : body.getInt(24) & 0xFFFF_FFFFL;
        for (int at = FIXED_BYTES; entries > 0 && at + 12 <= body.remaining(); at += 12, entries--) {
            long size = body.getLong(at + 4);
            if (size < 0) {
                throw damaged(file, "has a ds64 table entry of " + Long.toUnsignedString(size) + " bytes");
            }
            table.put(FileBytes.id(body, at), size);
        }
        return new LargeSizes(dataSize, table);
    }

    /** Bytes of samples; −1 if the recorder did not know. */
    long dataSize() {
        return dataSize;
    }

    /** Length in bytes of a chunk whose own header holds 0xFFFFFFFF. */
    long sizeOf(String id) {
        return table.getOrDefault(id, 0xFFFF_FFFFL);
    }

    private static AudioFormatException damaged(Path file, String fault) {
        return new AudioFormatException(file, fault, "its header is damaged: copy it again or export it again as WAV");
    }
}
