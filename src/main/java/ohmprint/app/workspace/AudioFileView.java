package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Stream;
import ohmprint.app.TakeFiles;
import ohmprint.app.record.PutAside;
import ohmprint.session.AudioShape;
import ohmprint.wav.WavReader;

/**
 * A recording in a folder.
 *
 * @param file its name
 * @param seconds its length; NaN when it cannot be read
 * @param sampleRate samples per second; NaN likewise
 * @param channels channels; 0 likewise
 * @param unfinished whether it is a take that is being recorded or waits for a verdict
 * @param rejected whether the recorder put it aside, because it was repeated or broken off
 */
public record AudioFileView(
        String file, double seconds, double sampleRate, int channels, boolean unfinished, boolean rejected) {
    private static final Set<String> KINDS = Set.of("wav", "wave", "aif", "aiff", "flac");

    /** Whether a file of this name holds sound. */
    static boolean isAudio(String name) {
        return KINDS.contains(name.substring(name.lastIndexOf('.') + 1).toLowerCase(Locale.ROOT));
    }

    /**
     * Recordings directly in a folder, by name.
     *
     * @param but names to leave out
     */
    static List<AudioFileView> in(Path folder, Places places, Set<String> but) throws IOException {
        List<AudioFileView> out = new ArrayList<>();
        List<Path> files;
        try (Stream<Path> all = Files.list(folder)) {
            files = all.filter(f -> !String.valueOf(f.getFileName()).startsWith("."))
                    .filter(f -> isAudio(String.valueOf(f.getFileName())))
                    .filter(places::holds)
                    .sorted()
                    .toList();
        }
        for (Path file : files) {
            String name = String.valueOf(file.getFileName());
            if (!but.contains(name)) {
                out.add(of(file, name));
            }
        }
        return out;
    }

    private static AudioFileView of(Path file, String name) {
        if (isUnfinished(name)) {
            return unfinished(file, name);
        }
        boolean rejected = PutAside.names(name);
        try {
            AudioShape shape = TakeFiles.probe().shape(file);
            return new AudioFileView(
                    name, shape.frames() / shape.sampleRate(), shape.sampleRate(), shape.channels(), false, rejected);
        } catch (IOException e) {
            return new AudioFileView(name, Double.NaN, Double.NaN, 0, false, rejected);
        }
    }

    /** The header of one that is being written does not know its length. */
    private static AudioFileView unfinished(Path file, String name) {
        try (WavReader reader = WavReader.openTruncated(file)) {
            return new AudioFileView(
                    name, reader.frames() / reader.sampleRate(), reader.sampleRate(), reader.channels(), true, false);
        } catch (IOException e) {
            return new AudioFileView(name, Double.NaN, Double.NaN, 0, true, false);
        }
    }

    /** Whether a recording is still being made, waits for a verdict, or was broken off. */
    static boolean isUnfinished(String name) {
        return name.endsWith(".unfinished.wav");
    }
}
