package ohmprint.wav;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Path;

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
        FileChannel channel = FileBytes.open(file);
        try {
            AiffParser.Result parsed = AiffParser.parse(file, channel);
            return new AiffReader(file, channel, parsed, parsed.layout().complete(file));
        } catch (IOException | RuntimeException e) {
            channel.close();
            throw e;
        }
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
}
