package ohmprint.app.workspace;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.locks.Lock;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;
import ohmprint.app.measure.TakeFiles;
import ohmprint.app.record.SessionFolder;
import ohmprint.audiofile.WavReader;
import ohmprint.session.AudioProbe.AudioShape;
import ohmprint.session.Session;

/**
 * The recordings of a folder, and files that come into it. They are written beside their place under a hidden name, looked
 * at, and get their name only then; what is there already is never overwritten.
 */
public final class FolderFiles {
    /** What hidden names of files that are on their way begin with. */
    private static final String PART = ".upload-";

    private static final Set<String> KINDS = Set.of("wav", "wave", "aif", "aiff", "flac");

    private FolderFiles() {}

    /**
     * Takes in a file.
     *
     * @param target where it is to lie
     * @param in its bytes, read to the end
     * @param changing held when it gets its name
     * @throws BadInputException if it is nothing that a session holds
     * @throws ConflictException if there is one of that name
     */
    static void take(Path target, InputStream in, Lock changing) throws BadInputException, IOException {
        String name = String.valueOf(target.getFileName());
        boolean sound = isAudio(name);
        if (!sound
                && !name.equals(Session.MANIFEST)
                && !name.toLowerCase(Locale.ROOT).endsWith(".csv")) {
            throw new BadInputException(
                    name + " is no file of a session; give recordings as WAV, AIFF or FLAC, a measured input curve as"
                            + " CSV, or session.yaml");
        }
        refuseExisting(target, name);
        Path part = target.resolveSibling(PART + UUID.randomUUID());
        try {
            Files.copy(in, part);
            if (sound) {
                readable(part, name);
            }
            changing.lock();
            try {
                refuseExisting(target, name);
                Files.move(part, target);
            } finally {
                changing.unlock();
            }
        } finally {
            Files.deleteIfExists(part);
        }
    }

    private static void refuseExisting(Path target, String name) throws ConflictException {
        if (Files.exists(target, LinkOption.NOFOLLOW_LINKS)) {
            throw new ConflictException(
                    name + " is in the session already and is not overwritten; give the new file another name");
        }
    }

    private static void readable(Path part, String name) throws BadInputException {
        try {
            if (TakeFiles.probe().shape(part).frames() <= 0) {
                throw new BadInputException(name + " holds no sound; record it again");
            }
        } catch (IOException e) {
            String why = String.valueOf(e.getMessage()).replace(part.toString(), name);
            throw new BadInputException(name + " cannot be read as audio (" + why + "); export it again as WAV", e);
        }
    }

    /** Removes what was on its way when the program ended. */
    static void tidy(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : files.filter(f -> String.valueOf(f.getFileName()).startsWith(PART))
                    .toList()) {
                Files.deleteIfExists(file);
            }
        }
    }

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
    public record AudioFile(
            String file, double seconds, double sampleRate, int channels, boolean unfinished, boolean rejected) {}

    /** Whether a file of this name holds sound. */
    static boolean isAudio(String name) {
        return KINDS.contains(name.substring(name.lastIndexOf('.') + 1).toLowerCase(Locale.ROOT));
    }

    /**
     * Recordings directly in a folder, by name.
     *
     * @param but names to leave out
     */
    static List<AudioFile> recordings(Path folder, PathGuard places, Set<String> but) throws IOException {
        List<AudioFile> out = new ArrayList<>();
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

    private static AudioFile of(Path file, String name) {
        if (SessionFolder.isUnfinished(name)) {
            return unfinished(file, name);
        }
        boolean rejected = SessionFolder.isPutAside(name);
        try {
            AudioShape shape = TakeFiles.probe().shape(file);
            return new AudioFile(
                    name, shape.frames() / shape.sampleRate(), shape.sampleRate(), shape.channels(), false, rejected);
        } catch (IOException e) {
            return new AudioFile(name, Double.NaN, Double.NaN, 0, false, rejected);
        }
    }

    /** The header of one that is being written does not know its length. */
    private static AudioFile unfinished(Path file, String name) {
        try (WavReader reader = WavReader.openTruncated(file)) {
            return new AudioFile(
                    name, reader.frames() / reader.sampleRate(), reader.sampleRate(), reader.channels(), true, false);
        } catch (IOException e) {
            return new AudioFile(name, Double.NaN, Double.NaN, 0, true, false);
        }
    }
}
