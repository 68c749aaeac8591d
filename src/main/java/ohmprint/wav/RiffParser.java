package ohmprint.wav;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;

/**
 * Walks the chunks of a RIFF, RF64 or BW64 file and finds the format and the samples.
 *
 * <p>Reads a few bytes per chunk, whatever the chunk's size. The length in the RIFF header itself is not used: recorders
 * leave it wrong, and each chunk's own length says all that is needed.
 */
final class RiffParser {
    /** More chunks than any recorder writes; a file of nothing but empty chunks would otherwise take for ever. */
    private static final int MOST_CHUNKS = 65_536;

    private static final long UNKNOWN = 0xFFFF_FFFFL;
    private static final String COPY = "copy it again from where it was recorded, or export it again as WAV";

    private final Path file;
    private final FileChannel channel;
    private final long fileLength;

    private boolean large;
    private @Nullable LargeSizes sizes;
    private @Nullable PcmFormat format;
    private long dataStart = -1;
    private long dataLength;
    private long promisedLength;

    private RiffParser(Path file, FileChannel channel) throws IOException {
        this.file = file;
        this.channel = channel;
        this.fileLength = channel.size();
    }

    /**
     * Finds the samples.
     *
     * @throws AudioFormatException if the file is not a WAV file that can be read exactly
     * @throws IOException if it cannot be read
     */
    static PcmLayout parse(Path file, FileChannel channel) throws IOException {
        RiffParser parser = new RiffParser(file, channel);
        parser.readForm();
        parser.walk();
        return parser.layout();
    }

    private void readForm() throws IOException {
        if (fileLength < 12) {
            throw new AudioFormatException(file, "is only " + fileLength + " bytes long, shorter than a header", COPY);
        }
        ByteBuffer head = FileBytes.read(channel, 0, 12);
        String form = FileBytes.id(head, 0);
        switch (form) {
            case "RIFF" -> large = false;
            case "RF64", "BW64" -> large = true;
            case "RIFX" ->
                throw new AudioFormatException(
                        file, "is big-endian RIFF (RIFX)", "export it as an ordinary WAV file (RIFF, little-endian)");
            default -> throw new AudioFormatException(file, "is not a RIFF file", "export it as WAV");
        }
        if (!FileBytes.id(head, 8).equals("WAVE")) {
            throw new AudioFormatException(
                    file, "is a RIFF file, but not one that holds WAVE sound", "export its sound as WAV");
        }
    }

    private void walk() throws IOException {
        long position = 12;
        for (int count = 0; position >= 0 && position + 8 <= fileLength; count++) {
            if (count == MOST_CHUNKS) {
                throw new AudioFormatException(file, "has more than " + MOST_CHUNKS + " chunks", COPY);
            }
            ByteBuffer header = FileBytes.read(channel, position, 8);
            if (!TrailingChunks.isChunkId(header, 0)) {
                if (dataStart >= 0) {
                    return;
                }
                throw new AudioFormatException(
                        file, "has no chunk at byte " + position + ", where one should begin", COPY);
            }
            position = chunk(FileBytes.id(header, 0), header.getInt(4) & UNKNOWN, position + 8);
        }
    }

    /** Takes in one chunk; returns where the next begins, or -1 to stop. */
    private long chunk(String id, long size32, long body) throws IOException {
        long available = fileLength - body;
        if (id.equals("data")) {
            return data(size32, body, available);
        }
        long size = large && size32 == UNKNOWN ? sizes().sizeOf(id) : size32;
        if (size > available) {
            if (dataStart >= 0) {
                return -1;
            }
            throw new AudioFormatException(
                    file,
                    "ends inside its " + id.strip() + " chunk: " + size + " bytes promised, " + available + " there",
                    COPY);
        }
        if (id.equals("fmt ")) {
            if (format != null) {
                throw new AudioFormatException(file, "has two fmt chunks", COPY);
            }
            format = FormatChunk.parse(
                    file, FileBytes.read(channel, body, (int) Math.min(size, FormatChunk.EXTENSIBLE_BYTES)));
        } else if (id.equals("ds64") && large) {
            sizes = LargeSizes.parse(file, FileBytes.read(channel, body, (int) Math.min(size, LargeSizes.MOST_BYTES)));
        }
        return next(body, size);
    }

    private long data(long size32, long body, long available) throws IOException {
        if (dataStart >= 0) {
            throw new AudioFormatException(
                    file,
                    "has a second data chunk at byte " + (body - 8) + " besides the one at byte " + (dataStart - 8),
                    "export it as a WAV file with a single run of samples");
        }
        dataStart = body;
        long size = size32;
        boolean streamed = size32 == UNKNOWN;
        if (streamed && large) {
            size = sizes().dataSize();
            streamed = size == -1;
        }
        if (streamed || (size == 0 && !TrailingChunks.fill(channel, body))) {
            dataLength = TrailingChunks.startIn(channel, body) - body;
            promisedLength = dataLength;
            return -1;
        }
        dataLength = Math.min(size, available);
        promisedLength = size;
        return size > available ? -1 : next(body, size);
    }

    /**
     * Chunks begin at even bytes. Some writers forget the padding after an odd length: a chunk then seems to begin right
     * behind, and no known one does where it should.
     */
    private long next(long body, long size) throws IOException {
        long end = body + size;
        if (size % 2 == 0 || end + 9 > fileLength) {
            return end + size % 2;
        }
        ByteBuffer behind = FileBytes.read(channel, end, 9);
        boolean forgotten = TrailingChunks.isChunkId(behind, 0) && !known(FileBytes.id(behind, 1));
        return forgotten ? end : end + 1;
    }

    private static boolean known(String id) {
        return id.equals("data") || id.equals("fmt ") || TrailingChunks.isWellKnown(id);
    }

    private LargeSizes sizes() throws AudioFormatException {
        if (sizes == null) {
            throw new AudioFormatException(file, "is an RF64 or BW64 file without its ds64 chunk", COPY);
        }
        return sizes;
    }

    private PcmLayout layout() throws AudioFormatException {
        if (format == null) {
            throw new AudioFormatException(file, "has no fmt chunk", COPY);
        }
        if (dataStart < 0) {
            throw new AudioFormatException(file, "has no data chunk", COPY);
        }
        return new PcmLayout(format, dataStart, dataLength, promisedLength);
    }
}
