package ohmprint.audiofile;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Reads an AIFF file, or an AIFF-C file without compression, as a stream. */
final class AiffReader extends PcmReader {
    private final boolean bigEndian;
    private final int sampleBytes;
    private final int blockAlign;

    private AiffReader(Path file, FileChannel channel, AiffParser.Result parsed, PcmLayout layout) {
        super(file, channel, layout);
        this.bigEndian = parsed.bigEndian();
        this.sampleBytes = layout.format().sampleBytes();
        this.blockAlign = layout.format().blockAlign();
    }

    /**
     * Opens a complete file.
     *
     * @param file the file
     * @throws AudioFormatException if it is not an AIFF file that can be read exactly, or is shorter than its header says
     * @throws IOException if it cannot be opened or read
     */
    static AiffReader open(Path file) throws IOException {
        return FileBytes.open(file, channel -> {
            AiffParser.Result parsed = AiffParser.parse(file, channel);
            return new AiffReader(file, channel, parsed, parsed.layout().complete(file));
        });
    }

    @Override
    void prepare(byte[] block, int frames, long position) {
        int end = FrameDecoder.LEAD + frames * blockAlign;
        if (sampleBytes == 1) {
            for (int i = FrameDecoder.LEAD; i < end; i++) {
                block[i] ^= (byte) 0x80;
            }
        } else if (bigEndian) {
            for (int start = FrameDecoder.LEAD; start < end; start += sampleBytes) {
                for (int i = start, j = start + sampleBytes - 1; i < j; i++, j--) {
                    byte kept = block[i];
                    block[i] = block[j];
                    block[j] = kept;
                }
            }
        }
    }

    /**
     * Walks the chunks of an AIFF or AIFF-C file and finds the format and the samples.
     *
     * <p>The sound chunk begins with an offset to its first sample, which is honoured, and a block size; more samples than
     * the frame count says are taken for padding only if there is a block size to fill up to.
     */
    private static final class AiffParser {
        /**
         * What was found.
         *
         * @param layout where the samples lie
         * @param bigEndian whether their most significant byte comes first
         */
        record Result(PcmLayout layout, boolean bigEndian) {}

        private static final Set<String> INTEGERS = Set.of("NONE", "twos", "sowt");
        private static final Set<String> FLOATS = Set.of("fl32", "FL32", "fl64", "FL64");

        private final Path file;
        private final FileChannel channel;
        private final long fileLength;

        private boolean compressible;
        private boolean bigEndian = true;
        private @Nullable PcmFormat format;
        private long promisedFrames;
        private long dataStart = -1;
        private long dataLength;
        private boolean padded;

        private AiffParser(Path file, FileChannel channel) throws IOException {
            this.file = file;
            this.channel = channel;
            this.fileLength = channel.size();
        }

        static Result parse(Path file, FileChannel channel) throws IOException {
            AiffParser parser = new AiffParser(file, channel);
            parser.walk();
            return new Result(parser.layout(), parser.bigEndian);
        }

        private void walk() throws IOException {
            ByteBuffer head = FileBytes.header(file, channel, 12, AudioFormatException.COPY);
            String form = FileBytes.id(head, 8);
            if (!FileBytes.id(head, 0).equals("FORM") || !(form.equals("AIFF") || form.equals("AIFC"))) {
                throw new AudioFormatException(file, "is not an AIFF file", "export it as WAV");
            }
            compressible = form.equals("AIFC");
            long position = 12;
            for (int count = 0; position + 8 <= fileLength; count++) {
                if (count == FormatBounds.MOST_CHUNKS) {
                    throw new AudioFormatException(
                            file, "has more than " + FormatBounds.MOST_CHUNKS + " chunks", AudioFormatException.COPY);
                }
                ByteBuffer header = read(position, 8);
                long size = header.getInt(4) & 0xFFFF_FFFFL;
                String id = FileBytes.id(header, 0);
                if (id.equals("COMM")) {
                    common(position + 8, size);
                } else if (id.equals("SSND")) {
                    sound(position + 8, size);
                }
                position += 8 + size + size % 2;
            }
        }

        private void common(long body, long size) throws IOException {
            int needed = compressible ? 22 : 18;
            if (format != null) {
                throw new AudioFormatException(file, "has two COMM chunks", AudioFormatException.COPY);
            }
            if (size < needed || fileLength - body < needed) {
                throw new AudioFormatException(
                        file, "has a COMM chunk of less than " + needed + " bytes", AudioFormatException.COPY);
            }
            ByteBuffer common = read(body, needed);
            String kind = compressible ? FileBytes.id(common, 18) : "NONE";
            boolean floating = FLOATS.contains(kind);
            if (!floating && !INTEGERS.contains(kind)) {
                throw new AudioFormatException(
                        file,
                        "holds samples of the kind '" + kind + "', which cannot be read exactly",
                        "export it as WAV with 16-, 24- or 32-bit samples");
            }
            bigEndian = !kind.equals("sowt");
            promisedFrames = common.getInt(2) & 0xFFFF_FFFFL;
            int channels = common.getShort(0) & 0xFFFF;
            int bits = floating ? (kind.endsWith("32") ? 32 : 64) : common.getShort(6) & 0xFFFF;
            double rate = extended(common);
            FormatBounds.check(file, channels, rate);
            if (bits < 1 || (!floating && bits > 32)) {
                throw new AudioFormatException(
                        file,
                        "states samples of " + bits + " bits; 1 to 32 bits can be read",
                        AudioFormatException.COPY);
            }
            int bytes = (bits + 7) / 8;
            format = new PcmFormat(channels, rate, bytes, bits, floating, channels * bytes);
        }

        private void sound(long body, long size) throws IOException {
            if (dataStart >= 0) {
                throw new AudioFormatException(
                        file, "has two SSND chunks", "export it as a file with a single run of samples");
            }
            if (size < 8 || fileLength - body < 8) {
                throw new AudioFormatException(
                        file, "has a sound chunk of less than 8 bytes", AudioFormatException.COPY);
            }
            ByteBuffer sound = read(body, 8);
            long offset = sound.getInt(0) & 0xFFFF_FFFFL;
            padded = sound.getInt(4) != 0;
            dataStart = body + 8 + offset;
            dataLength = Math.max(0, Math.min(body + size, fileLength) - dataStart);
        }

        private PcmLayout layout() throws AudioFormatException {
            if (format == null) {
                throw new AudioFormatException(file, "has no COMM chunk", AudioFormatException.COPY);
            }
            if (dataStart < 0 && promisedFrames > 0) {
                throw new AudioFormatException(file, "has no SSND chunk", AudioFormatException.COPY);
            }
            long promised = promisedFrames * format.blockAlign();
            if (!padded && dataLength - promised >= format.blockAlign()) {
                throw new AudioFormatException(
                        file,
                        "says it has " + promisedFrames + " frames, but holds " + dataLength / format.blockAlign(),
                        AudioFormatException.COPY);
            }
            return new PcmLayout(format, dataStart, Math.min(dataLength, promised), promised);
        }

        /** The sample rate: an 80-bit float, sign and exponent in 16 bits, then a mantissa with its leading 1 written out. */
        private static double extended(ByteBuffer common) {
            int exponent = common.getShort(8);
            long mantissa = common.getLong(10);
            double unsigned = (mantissa >>> 1) * 2.0 + (mantissa & 1);
            return exponent < 0 ? -1 : Math.scalb(unsigned, exponent - 16383 - 63);
        }

        private ByteBuffer read(long position, int count) throws IOException {
            return FileBytes.read(channel, position, count).order(ByteOrder.BIG_ENDIAN);
        }
    }
}
