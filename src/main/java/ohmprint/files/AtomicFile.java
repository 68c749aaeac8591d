package ohmprint.files;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.NotLinkException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** A file that appears whole or not at all. */
public final class AtomicFile {
    /** Windows refuses to replace a file while another program, such as a virus scanner, has it open for a moment. */
    private static final boolean OPEN_FILES_RESIST =
            System.getProperty("os.name", "").toLowerCase(Locale.ROOT).startsWith("windows");

    private static final int MOVES = 20;
    private static final int PAUSE_MILLIS = 50;

    private AtomicFile() {}

    /**
     * Writes the content.
     *
     * @param <E> what it may object with
     */
    @FunctionalInterface
    public interface Content<E extends Exception> {
        /** Writes all of it to a file that does not exist yet. */
        void write(Path part) throws IOException, E;
    }

    /**
     * Writes the content of several files.
     *
     * @param <E> what it may object with
     */
    @FunctionalInterface
    public interface Contents<E extends Exception> {
        /** Writes all of it, each file to the one at its place in the list, which does not exist yet. */
        void write(List<Path> parts) throws IOException, E;
    }

    /**
     * Writes a file, in place of one that is there. The content is on the disk before it takes the other's place, so that a
     * power cut leaves one of them.
     *
     * @throws IOException if it cannot be written; what was there is there still
     */
    public static void replace(Path file, byte[] content) throws IOException {
        AtomicFile.<RuntimeException>replace(file, part -> Files.write(part, content, StandardOpenOption.CREATE_NEW));
    }

    /** The same with content that is written piece by piece. */
    public static <E extends Exception> void replace(Path file, Content<E> content) throws IOException, E {
        Path target = followed(file);
        Path part = Leftovers.beside(target);
        try {
            content.write(part);
            try (FileChannel written = FileChannel.open(part, StandardOpenOption.WRITE)) {
                written.force(true);
            }
            move(part, target);
        } finally {
            Files.deleteIfExists(part);
        }
    }

    /**
     * Writes a new file.
     *
     * @throws FileAlreadyExistsException if there is anything of that name, even if it came a moment ago; it is left as it
     *     is
     * @throws IOException if it cannot be written
     */
    public static <E extends Exception> void create(Path file, Content<E> content) throws IOException, E {
        createAll(List.of(file), parts -> content.write(parts.get(0)));
    }

    /** The same with files that belong together: all of them appear, or none. */
    public static <E extends Exception> void createAll(List<Path> files, Contents<E> content) throws IOException, E {
        for (Path file : files) {
            if (Files.exists(file, LinkOption.NOFOLLOW_LINKS)) {
                throw new FileAlreadyExistsException(file.toString());
            }
        }
        List<Path> parts = files.stream().map(Leftovers::beside).toList();
        List<Path> alone = new ArrayList<>();
        try {
            content.write(parts);
            for (int i = 0; i < files.size(); i++) {
                place(parts.get(i), files.get(i));
                alone.add(files.get(i));
            }
            alone.clear();
        } finally {
            alone.addAll(parts);
            for (Path one : alone) {
                Files.deleteIfExists(one);
            }
        }
    }

    /**
     * Gives a file its final name unless that is taken. A second name for it is the one step that neither replaces a file
     * nor shows half of one.
     *
     * @throws FileAlreadyExistsException if it is taken
     */
    public static void place(Path part, Path file) throws IOException {
        try {
            Files.createLink(file, part);
        } catch (FileAlreadyExistsException | NoSuchFileException e) {
            throw e;
        } catch (UnsupportedOperationException | IOException e) {
            // A disk without such links. Between the question and the renaming there is a moment.
            Files.move(part, file);
            return;
        }
        Files.delete(part);
    }

    /** Renames a file in one step, in place of one that is there. */
    static void move(Path from, Path to) throws IOException {
        for (int tried = 1; ; tried++) {
            try {
                Files.move(from, to, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
                return;
            } catch (AccessDeniedException e) {
                if (!OPEN_FILES_RESIST || tried == MOVES) {
                    throw e;
                }
                pause(PAUSE_MILLIS);
            }
        }
    }

    /** Waits a little; an interruption ends the wait and is kept for the caller. */
    static void pause(long millis) throws IOException {
        try {
            Thread.sleep(millis);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException("interrupted while waiting for a file", e);
        }
    }

    /**
     * What a path stands for when all links are followed, whether it exists or not: an absolute path of which as much as
     * exists is real.
     */
    static Path followed(Path path) throws IOException {
        Path at = path.toAbsolutePath();
        try {
            return at.toRealPath();
        } catch (NoSuchFileException e) {
            // It does not exist, or it is a link to what does not exist.
        }
        Path parent = at.normalize().getParent();
        try {
            return followed(at.resolveSibling(Files.readSymbolicLink(at)));
        } catch (NotLinkException | NoSuchFileException e) {
            return parent == null
                    ? at
                    : followed(parent).resolve(String.valueOf(at.normalize().getFileName()));
        }
    }
}
