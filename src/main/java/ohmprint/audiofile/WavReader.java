package ohmprint.audiofile;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Reads a WAV file (RIFF, RF64 or BW64) as a stream.
 *
 * <p>What is read, and how, is said in the package comment. Memory is one block of about 256 KiB whatever the header
 * claims; skipping moves the position and reads nothing. Not for use by several threads at once.
 *
 * <p>The whole format is in this file: the walk over the chunks, the long lengths of RF64, notes behind samples of
 * unknown length, and the judgement of the {@code fmt} chunk. Nothing of it has another user.
 */
public final class WavReader extends PcmReader {
    private final Path file;
    private final PcmLayout layout;

    private WavReader(Path file, FileChannel channel, PcmLayout layout) {
        super(file, channel, layout);
        this.file = file;
        this.layout = layout;
    }

    /**
     * Opens a complete file.
     *
     * @param file the file
     * @throws AudioFormatException if it is not a WAV file that can be read exactly, or is shorter than its header says
     * @throws IOException if it cannot be opened or read
     */
    public static WavReader open(Path file) throws IOException {
        return open(file, false);
    }

    /**
     * Opens a file that may have been cut short, for example by a crash while recording: what is there is read, and
     * {@link #truncated()} tells whether something is missing.
     *
     * @param file the file
     * @throws AudioFormatException if it is not a WAV file that can be read exactly
     * @throws IOException if it cannot be opened or read
     */
    public static WavReader openTruncated(Path file) throws IOException {
        return open(file, true);
    }

    private static WavReader open(Path file, boolean truncated) throws IOException {
        return FileBytes.open(file, channel -> {
            PcmLayout layout = RiffParser.parse(file, channel);
            return new WavReader(file, channel, truncated ? layout : layout.complete(file));
        });
    }

    /** Frames that the header promises; more than {@link #frames()} only if the file is cut short. */
    public long promisedFrames() {
        return layout.promisedFrames();
    }

    /** Whether the file ends before its header says. */
    public boolean truncated() {
        return layout.truncated();
    }

    /** Frames of 4 bytes per channel may hold narrower samples at either end of 4: only empty spare bytes tell. */
    @Override
    void prepare(byte[] block, int frames, long position) throws AudioFormatException {
        PcmFormat format = layout.format();
        if (!format.couldBeWidened()) {
            return;
        }
        int used = format.channels() * format.sampleBytes();
        for (int frame = 0; frame < frames; frame++) {
            int start = FrameDecoder.LEAD + frame * format.blockAlign();
            for (int i = used; i < format.blockAlign(); i++) {
                if (block[start + i] != 0) {
                    throw new AudioFormatException(
                            file,
                            "says " + 8 * format.sampleBytes() + " bits per sample but " + format.blockAlign()
                                    + " bytes per frame of " + format.channels()
                                    + " channels, and the spare bytes are not empty in frame " + (position + frame)
                                    + ", so where each sample lies is not certain",
                            "export it with samples packed without gaps");
                }
            }
        }
    }

    private static AudioFormatException damaged(Path file, String fault) {
        return new AudioFormatException(file, fault, "its header is damaged: copy it again or export it again as WAV");
    }

    /**
     * Walks the chunks of a RIFF, RF64 or BW64 file and finds the format and the samples.
     *
     * <p>Reads a few bytes per chunk, whatever the chunk's size. The length in the RIFF header itself is not used: recorders
     * leave it wrong, and each chunk's own length says all that is needed.
     */
    private static final class RiffParser {
        private static final long UNKNOWN = 0xFFFF_FFFFL;

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
            ByteBuffer head = FileBytes.header(file, channel, 12, AudioFormatException.COPY);
            String form = FileBytes.id(head, 0);
            switch (form) {
                case "RIFF" -> large = false;
                case "RF64", "BW64" -> large = true;
                case "RIFX" ->
                    throw new AudioFormatException(
                            file,
                            "is big-endian RIFF (RIFX)",
                            "export it as an ordinary WAV file (RIFF, little-endian)");
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
                if (count == FormatBounds.MOST_CHUNKS) {
                    throw new AudioFormatException(
                            file, "has more than " + FormatBounds.MOST_CHUNKS + " chunks", AudioFormatException.COPY);
                }
                ByteBuffer header = FileBytes.read(channel, position, 8);
                if (!TrailingChunks.isChunkId(header, 0)) {
                    if (dataStart >= 0) {
                        return;
                    }
                    throw new AudioFormatException(
                            file,
                            "has no chunk at byte " + position + ", where one should begin",
                            AudioFormatException.COPY);
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
                        "ends inside its " + id.strip() + " chunk: " + size + " bytes promised, " + available
                                + " there",
                        AudioFormatException.COPY);
            }
            if (id.equals("fmt ")) {
                if (format != null) {
                    throw new AudioFormatException(file, "has two fmt chunks", AudioFormatException.COPY);
                }
                format = FormatChunk.parse(
                        file, FileBytes.read(channel, body, (int) Math.min(size, FormatChunk.EXTENSIBLE_BYTES)));
            } else if (id.equals("ds64") && large) {
                sizes = LargeSizes.parse(
                        file, FileBytes.read(channel, body, (int) Math.min(size, LargeSizes.MOST_BYTES)));
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
                throw new AudioFormatException(
                        file, "is an RF64 or BW64 file without its ds64 chunk", AudioFormatException.COPY);
            }
            return sizes;
        }

        private PcmLayout layout() throws AudioFormatException {
            if (format == null) {
                throw new AudioFormatException(file, "has no fmt chunk", AudioFormatException.COPY);
            }
            if (dataStart < 0) {
                throw new AudioFormatException(file, "has no data chunk", AudioFormatException.COPY);
            }
            return new PcmLayout(format, dataStart, dataLength, promisedLength);
        }
    }

    /**
     * The {@code ds64} chunk of an RF64 or BW64 file: the lengths that do not fit into 32 bits.
     *
     * <p>Layout: RIFF length, data length and sample count (64 bits each), number of table entries (32 bits), then entries
     * of a chunk identifier and its 64-bit length. Source: EBU Tech 3306 (from memory).
     */
    private static final class LargeSizes {
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
    }

    /**
     * Chunks after samples of unknown length.
     *
     * <p>A recorder that streams leaves no length behind, yet may append notes. A run of chunks that ends exactly at the end
     * of the file and begins with a well-known identifier is taken as such notes: sound does not look like that.
     */
    private static final class TrailingChunks {
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

    /** The {@code fmt} chunk of a WAV file, judged: what it says, and why it cannot be read where it cannot. */
    static final class FormatChunk {
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
                            file,
                            "has an extensible fmt chunk of " + body.remaining() + " bytes where 40 or more belong");
                }
                valid = body.getShort(18) & 0xFFFF;
                tag = subFormat(file, body);
                if (bits % 8 != 0) {
                    throw damaged(
                            file, "has an extensible header with containers of " + bits + " bits, not whole bytes");
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
                        "says " + blockAlign + " bytes per frame, but " + channels + " channels of " + bits
                                + " bits need " + channels * bytes);
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
    }
}
