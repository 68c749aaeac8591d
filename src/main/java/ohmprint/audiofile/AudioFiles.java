package ohmprint.audiofile;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.util.Map;
import ohmprint.dsp.SampleSource;

/** Opens sound files of any supported kind, told apart by their first bytes and not by their names. */
public final class AudioFiles {
    private static final String EXPORT = "export it as WAV";

    private static final Map<String, String> REFUSED = Map.of(
            "OggS", "an Ogg stream",
            ".snd", "an AU file",
            "caff", "a CAF file",
            "riff", "a Wave64 file");

    private AudioFiles() {}

    /**
     * Opens a sound file: WAV (RIFF, RF64, BW64), AIFF or FLAC.
     *
     * @param file the file; its extension does not matter
     * @return its samples from the first frame on; to be closed by the caller
     * @throws AudioFormatException if it is of another kind, cut short, or cannot be read exactly
     * @throws IOException if it cannot be opened or read
     */
    public static SampleSource open(Path file) throws IOException {
        String magic = magic(file);
        return switch (magic) {
            case "RIFF", "RF64", "BW64", "RIFX" -> WavReader.open(file);
            case "FORM" -> AiffReader.open(file);
            case "fLaC" -> FlacReader.open(file);
            default -> throw unknown(file, magic);
        };
    }

    private static AudioFormatException unknown(Path file, String magic) {
        if (magic.isEmpty()) {
            return new AudioFormatException(file, "is empty (0 bytes)", "record or copy it again");
        }
        String kind = magic.startsWith("ID3") ? "MPEG audio or another tagged stream" : REFUSED.get(magic);
        if (kind != null) {
            return new AudioFormatException(file, "is " + kind + ", which is not read here", EXPORT);
        }
        return new AudioFormatException(file, "is no WAV, AIFF or FLAC file by its first bytes", EXPORT);
    }

    private static String magic(Path file) throws IOException {
        try (FileChannel channel = FileBytes.open(file)) {
            int count = (int) Math.min(4, channel.size());
            ByteBuffer head = FileBytes.read(channel, 0, count);
            return count == 4 ? FileBytes.id(head, 0) : "?".repeat(count);
        }
    }
}
