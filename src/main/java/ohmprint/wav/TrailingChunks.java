package ohmprint.wav;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.util.Set;

/**
 * Chunks after samples of unknown length.
 *
 * <p>A recorder that streams leaves no length behind, yet may append notes. A run of chunks that ends exactly at the end
 * of the file and begins with a well-known identifier is taken as such notes: sound does not look like that.
 */
final class TrailingChunks {
    /** How far back from the end of the file notes are looked for, in bytes. */
    private static final int REACH = 1 << 20;

    private static final Set<String> WELL_KNOWN = Set.of(
            "LIST", "bext", "cue ", "smpl", "inst", "plst", "iXML", "axml", "chna", "id3 ", "ID3 ", "JUNK", "junk",
            "PAD ", "fact", "_PMX", "PEAK", "levl");

    private TrailingChunks() {}

    /** Whether four bytes are printable ASCII, as every chunk identifier is. */
    static boolean isChunkId(ByteBuffer buffer, int at) {
        for (int i = at; i < at + 4; i++) {
            if (buffer.get(i) < 0x20 || buffer.get(i) > 0x7E) {
                return false;
            }
        }
        return true;
    }

    /** Whether an identifier is one of those that commonly stand beside samples. */
    static boolean isWellKnown(String id) {
        return WELL_KNOWN.contains(id);
    }

    /** Whether everything from {@code from} to the end of the file is chunks (or nothing is there at all). */
    static boolean fill(FileChannel channel, long from) throws IOException {
        long end = channel.size();
        long at = from;
        for (int count = 0; at < end; count++) {
            if (at + 8 > end || count == REACH / 8) {
                return false;
            }
            ByteBuffer header = FileBytes.read(channel, at, 8);
            if (!isChunkId(header, 0)) {
                return false;
            }
            at = next(at, header, 0);
        }
        return at == end || at == end + 1;
    }

    /** Where well-known chunks at the end of the file begin; the end of the file if there are none. */
    static long startIn(FileChannel channel, long from) throws IOException {
        long end = channel.size();
        int count = (int) Math.min(REACH, end - from);
        long start = end - count;
        ByteBuffer tail = FileBytes.read(channel, start, count);
        for (int i = 0; i + 8 <= count; i++) {
            if (isChunkId(tail, i) && isWellKnown(FileBytes.id(tail, i)) && reachesEnd(tail, i)) {
                return start + i;
            }
        }
        return end;
    }

    private static boolean reachesEnd(ByteBuffer tail, int from) {
        long at = from;
        while (at + 8 <= tail.limit() && isChunkId(tail, (int) at)) {
            at = next(at, tail, (int) at);
        }
        return at == tail.limit() || at == tail.limit() + 1L;
    }

    private static long next(long at, ByteBuffer header, int index) {
        long size = header.getInt(index + 4) & 0xFFFF_FFFFL;
        return at + 8 + size + size % 2;
    }
}
