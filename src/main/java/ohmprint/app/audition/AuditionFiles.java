package ohmprint.app.audition;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.audiofile.AudioFiles;
import ohmprint.audiofile.WavEncoding;
import ohmprint.audiofile.WavWriter;
import ohmprint.dsp.SampleSource;
import ohmprint.files.AtomicFile;

/**
 * The files of an audition: the result, and perhaps a short comparison, which plays each of a few passages as it was
 * recorded and then as rendered, both with the same gain, short fades and silence between them. They appear together,
 * complete, under names that were free, or none of them.
 */
final class AuditionFiles {
    private static final int WIDEST_DITHERED = 3;
    private static final long RESULT_SEED = 1;
    private static final long COMPARISON_SEED = 2;
    private static final double FADE_SECONDS = 0.02;
    private static final double GAP_SECONDS = 0.3;
    private static final double PAUSE_SECONDS = 0.8;

    private final List<Path> files;

    /**
     * Names that are free.
     *
     * @throws BadInputException naming a file that is taken or cannot be used, and what to do
     */
    AuditionFiles(AuditionRequest request) throws BadInputException {
        Path comparison = request.comparison();
        files = comparison == null ? List.of(request.out()) : List.of(request.out(), comparison);
        for (Path file : files) {
            Path folder = file.toAbsolutePath().normalize().getParent();
            if (Files.exists(file, LinkOption.NOFOLLOW_LINKS)) {
                throw new BadInputException(
                        file + " exists and is not overwritten; name another file, or remove it first");
            }
            if (folder == null || !Files.isDirectory(folder)) {
                throw new BadInputException(file + " has no folder to lie in; make the folder first");
            }
        }
        if (files.stream().map(f -> f.toAbsolutePath().normalize()).distinct().count() < files.size()) {
            throw new BadInputException(
                    files.get(0) + " is named for two results; name a file of its own for the comparison");
        }
    }

    /**
     * Writes them.
     *
     * @param content writes the result to the first path, and the comparison, if one is wanted, to the second
     * @throws IOException if one cannot be written; nothing is left behind then
     */
    void write(AtomicFile.Contents<IOException> content) throws IOException {
        try {
            AtomicFile.createAll(files, content);
        } catch (FileAlreadyExistsException e) {
            throw new IOException(e.getMessage() + " appeared meanwhile and is not overwritten; name another file", e);
        } catch (AccessDeniedException e) {
            throw new IOException(files.get(0) + " cannot be written (permission denied); name another folder", e);
        }
    }

    /** Begins the result. */
    static WavWriter result(Path file, int channels, double rate, WavEncoding encoding) throws IOException {
        return begun(file, channels, rate, encoding, RESULT_SEED);
    }

    /** Samples are new: integers of up to 24 bits get dither, the same each time; wider ones need none. */
    private static WavWriter begun(Path file, int channels, double rate, WavEncoding encoding, long seed)
            throws IOException {
        return encoding.floating() || encoding.bytes() > WIDEST_DITHERED
                ? WavWriter.create(file, channels, (int) rate, encoding)
                : WavWriter.createDithered(file, channels, (int) rate, encoding, seed);
    }

    /**
     * Writes the comparison.
     *
     * @param out the file
     * @param take the take
     * @param rendered the result, sample for sample at the same places
     * @param takeGain factor that puts the take beside the result
     * @param starts first frames of the passages
     * @param seconds length of a passage
     * @param encoding how samples are stored
     */
    static void comparison(
            Path out,
            Path take,
            Path rendered,
            double takeGain,
            List<Long> starts,
            double seconds,
            WavEncoding encoding)
            throws IOException {
        int channels;
        double rate;
        long frames;
        try (SampleSource source = AudioFiles.open(take)) {
            channels = source.channels();
            rate = source.sampleRate();
            frames = source.frames();
        }
        int length = (int) Math.min(frames, Math.round(seconds * rate));
        try (WavWriter writer = begun(out, channels, rate, encoding, COMPARISON_SEED)) {
            for (int p = 0; p < starts.size(); p++) {
                writer.write(passage(take, starts.get(p), length, takeGain), 0, length);
                silence(writer, channels, GAP_SECONDS * rate);
                writer.write(passage(rendered, starts.get(p), length, 1), 0, length);
                silence(writer, channels, p == starts.size() - 1 ? 0 : PAUSE_SECONDS * rate);
            }
        }
    }

    private static void silence(WavWriter writer, int channels, double frames) throws IOException {
        int count = (int) Math.round(frames);
        writer.write(new double[channels][count], 0, count);
    }

    private static double[][] passage(Path file, long start, int length, double gain) throws IOException {
        try (SampleSource source = AudioFiles.open(file)) {
            source.skip(start);
            double[][] out = new double[source.channels()][length];
            source.read(out, 0, length);
            int fade = (int) Math.min(length / 2.0, FADE_SECONDS * source.sampleRate());
            for (double[] x : out) {
                for (int i = 0; i < length; i++) {
                    int edge = Math.min(i, length - 1 - i);
                    x[i] *= gain * (edge < fade ? Math.pow(Math.sin(Math.PI / 2 * edge / fade), 2) : 1);
                }
            }
            return out;
        }
    }
}
