package ohmprint.files;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.AccessDeniedException;
import java.nio.file.DirectoryNotEmptyException;
import java.nio.file.DirectoryStream;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Deque;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.ReentrantLock;
import org.jspecify.annotations.Nullable;

/**
 * A folder whose files belong together and are written together.
 *
 * <p>No operating system replaces several files in one step, and Windows replaces no folder that holds anything. So:
 *
 * <ul>
 *   <li>A folder that is not there appears whole or not at all: it is filled under a hidden name and renamed.
 *   <li>In a folder that is there each file is replaced in one step, in the order of writing, when all of them are complete
 *       on the disk. No file is missing at any moment. Who reads while this lasts, some milliseconds, may meet old and new
 *       files beside each other; so the last file should say what the others are like.
 *   <li>When a file cannot be replaced, those before it are put back.
 *   <li>Two writers take turns. What the program does not know by name, and what is no regular file, stays as it is.
 * </ul>
 */
public final class AtomicFolder {
    /** Holds the turn of the one who writes; removed when it is over. */
    static final String LOCK = ".ohmprint.lock";

    private final Path folder;
    private final Path above;
    private final Set<String> known;
    private final Set<String> before;

    /** Writing was not begun: why, and what to do. */
    public static final class RefusedException extends IOException {
        private static final long serialVersionUID = 1;

        RefusedException(String message) {
            super(message);
        }
    }

    private AtomicFolder(Path folder, Path above, Set<String> known, Set<String> before) {
        this.folder = folder;
        this.above = above;
        this.known = known;
        this.before = before;
    }

    /**
     * A folder as it is now, which may not exist. A link to a folder is followed.
     *
     * @param named its path
     * @param known names of files that may be replaced or removed
     */
    public static AtomicFolder at(Path named, Set<String> known) throws IOException {
        Path folder = AtomicFile.followed(named);
        Path above = folder.getParent() == null ? folder : folder.getParent();
        while (!Files.exists(above) && above.getParent() != null) {
            above = above.getParent();
        }
        Set<String> before = new HashSet<>(known);
        before.removeIf(name -> !isFile(folder.resolve(name)));
        return new AtomicFolder(folder, above, Set.copyOf(known), Set.copyOf(before));
    }

    /** The first name in the folder that is none of the known files; empty when there is none, or no folder. */
    public Optional<String> stranger() throws IOException {
        Set<String> strangers = new TreeSet<>();
        if (Files.isDirectory(folder)) {
            try (DirectoryStream<Path> all = Files.newDirectoryStream(folder)) {
                for (Path one : all) {
                    String name = String.valueOf(one.getFileName());
                    boolean ours = name.equals(LOCK) || Leftovers.isOurs(name);
                    if (!ours && (!known.contains(name) || !isFile(one))) {
                        strangers.add(name);
                    }
                }
            }
        }
        return strangers.stream().findFirst();
    }

    private static boolean isFile(Path file) {
        return Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS);
    }

    /**
     * Writes all files. Known files that were there at the beginning and are not written go when the others are in place.
     *
     * @param files content by file name, in the order in which they are put in place
     * @throws RefusedException if another program is writing, something that is no file has the name of one, or the folder
     *     that should hold this one has gone since the beginning; nothing was changed
     * @throws IOException if they cannot be written; what was there is there still
     */
    public void write(Map<String, byte[]> files) throws IOException {
        for (boolean written = false; !written; ) {
            written = Files.isDirectory(folder) ? replace(files) : appear(files);
        }
    }

    /** Makes the folder with all files in it; false when somebody else has made it meanwhile. */
    private boolean appear(Map<String, byte[]> files) throws IOException {
        if (Files.exists(folder, LinkOption.NOFOLLOW_LINKS)) {
            throw new RefusedException(folder + " is no folder; name another one");
        }
        if (!Files.isDirectory(above)) {
            throw gone();
        }
        Path parent = folder.getParent() == null ? folder : folder.getParent();
        Deque<Path> made = makeBelow(parent);
        Path fresh = Leftovers.name(parent);
        boolean done = false;
        try {
            Files.createDirectory(fresh);
            fill(fresh, files);
            Files.move(fresh, folder, StandardCopyOption.ATOMIC_MOVE);
            done = true;
        } catch (IOException e) {
            if (Files.isDirectory(folder)) {
                return false;
            }
            throw Files.isDirectory(above) ? e : gone();
        } finally {
            if (!done) {
                Leftovers.remove(fresh);
                removeEmpty(made);
            }
        }
        Leftovers.tidy(parent);
        return true;
    }

    private RefusedException gone() {
        return new RefusedException(
                "the folder " + above + " was removed meanwhile; restore it or name another folder");
    }

    /** Makes the folders that are missing between the one that was there at the beginning and this one; innermost first. */
    private Deque<Path> makeBelow(Path innermost) throws IOException {
        List<Path> missing = new ArrayList<>();
        for (Path p = innermost; p != null && !p.equals(above); p = p.getParent()) {
            missing.add(0, p);
        }
        Deque<Path> made = new ArrayDeque<>();
        for (Path p : missing) {
            try {
                Files.createDirectory(p);
                made.push(p);
            } catch (FileAlreadyExistsException e) {
                if (!Files.isDirectory(p)) {
                    throw e;
                }
            } catch (NoSuchFileException e) {
                throw gone();
            }
        }
        return made;
    }

    private static void removeEmpty(Deque<Path> made) throws IOException {
        for (Path p : made) {
            try {
                Files.deleteIfExists(p);
            } catch (DirectoryNotEmptyException e) {
                return;
            }
        }
    }

    private static void fill(Path fresh, Map<String, byte[]> files) throws IOException {
        for (Map.Entry<String, byte[]> file : files.entrySet()) {
            Files.write(fresh.resolve(file.getKey()), file.getValue());
        }
    }

    /** Replaces the files of the folder; false when it has gone meanwhile. */
    private boolean replace(Map<String, byte[]> files) throws IOException {
        try (Turn turn = Turn.in(folder)) {
            if (turn == null) {
                return false;
            }
            removeUnfinished();
            for (String name : files.keySet()) {
                Path file = folder.resolve(name);
                if (Files.exists(file, LinkOption.NOFOLLOW_LINKS) && !isFile(file)) {
                    throw new RefusedException(file + " is a " + (Files.isSymbolicLink(file) ? "link" : "folder")
                            + ", not a file that may be replaced; move it elsewhere or name another folder");
                }
            }
            Path fresh = Files.createDirectory(Leftovers.name(folder));
            try {
                fill(fresh, files);
                exchange(fresh, files.keySet());
            } finally {
                Leftovers.remove(fresh);
            }
            for (String name : before) {
                if (!files.containsKey(name) && isFile(folder.resolve(name))) {
                    Files.deleteIfExists(folder.resolve(name));
                }
            }
            return true;
        }
    }

    /** Whoever has the turn is alone: what has such a name is of a program that was killed. */
    private void removeUnfinished() throws IOException {
        try (DirectoryStream<Path> all =
                Files.newDirectoryStream(folder, f -> Leftovers.isOurs(String.valueOf(f.getFileName())))) {
            for (Path one : all) {
                Leftovers.remove(one);
            }
        }
    }

    private void exchange(Path fresh, Collection<String> names) throws IOException {
        Path old = Files.createDirectory(fresh.resolve("old"));
        for (String name : names) {
            if (isFile(folder.resolve(name))) {
                keep(folder.resolve(name), old.resolve(name));
            }
        }
        Deque<String> moved = new ArrayDeque<>();
        try {
            for (String name : names) {
                AtomicFile.move(fresh.resolve(name), folder.resolve(name));
                moved.push(name);
            }
        } catch (IOException e) {
            for (String name : moved) {
                putBack(old.resolve(name), folder.resolve(name), e);
            }
            throw e;
        }
    }

    private static void keep(Path file, Path copy) throws IOException {
        try {
            Files.createLink(copy, file);
        } catch (UnsupportedOperationException | IOException e) {
            // A disk without second names for a file.
            Files.copy(file, copy, StandardCopyOption.COPY_ATTRIBUTES);
        }
    }

    private static void putBack(Path old, Path file, IOException why) {
        try {
            if (Files.exists(old)) {
                AtomicFile.move(old, file);
            } else {
                Files.deleteIfExists(file);
            }
        } catch (IOException e) {
            why.addSuppressed(e);
        }
    }

    /** The right to write into a folder, against other threads and other programs. */
    private record Turn(ReentrantLock here, FileChannel channel, Path file) implements AutoCloseable {
        private static final int PATIENCE_MILLIS = 10_000;
        private static final int PAUSE_MILLIS = 20;
        private static final int LONGEST_MARK = 1 << 14;

        /**
         * One for each of many folders. A process must not open the file that holds its turn once more: Unix forgets all
         * turns of a process on a file when any of its channels is closed.
         */
        private static final ReentrantLock[] HERE = new ReentrantLock[64];

        static {
            for (int i = 0; i < HERE.length; i++) {
                HERE[i] = new ReentrantLock();
            }
        }

        /** Waits for it; null when the folder has gone. */
        static @Nullable Turn in(Path folder) throws IOException {
            long end = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(PATIENCE_MILLIS);
            ReentrantLock here = HERE[Math.floorMod(folder.hashCode(), HERE.length)];
            here.lock();
            Turn turn = null;
            try {
                turn = against(here, folder, end);
                return turn;
            } finally {
                if (turn == null) {
                    here.unlock();
                }
            }
        }

        private static @Nullable Turn against(ReentrantLock here, Path folder, long end) throws IOException {
            Path file = folder.resolve(LOCK);
            while (true) {
                try {
                    FileChannel channel = FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
                    if (holds(channel, file)) {
                        return new Turn(here, channel, file);
                    }
                    channel.close();
                } catch (NoSuchFileException e) {
                    if (!Files.isDirectory(folder)) {
                        return null;
                    }
                } catch (AccessDeniedException e) {
                    // Windows says so while the file of another program's turn is being removed.
                    if (!Files.exists(file)) {
                        throw e;
                    }
                }
                if (System.nanoTime() > end) {
                    throw new RefusedException("another run is writing its results to " + folder
                            + "; wait until it has ended and try again");
                }
                AtomicFile.pause(PAUSE_MILLIS);
            }
        }

        /**
         * Whether the channel has the turn and its file is still the one of that name: who had it before removes the file at
         * the end. The file gets a length by chance, because two files can be told apart by it without opening one again.
         */
        private static boolean holds(FileChannel channel, Path file) throws IOException {
            FileLock lock;
            try {
                lock = channel.tryLock();
            } catch (OverlappingFileLockException e) {
                return false;
            } catch (IOException e) {
                // A disk that has no locks: each file is still replaced in one step.
                return true;
            }
            if (lock == null) {
                return false;
            }
            int length = 1 + ThreadLocalRandom.current().nextInt(LONGEST_MARK);
            channel.truncate(0);
            channel.write(ByteBuffer.allocate(length));
            try {
                return Files.size(file) == length;
            } catch (NoSuchFileException e) {
                return false;
            }
        }

        @Override
        public void close() {
            try {
                try (channel) {
                    Files.deleteIfExists(file);
                }
            } catch (IOException e) {
                // The results are in place; an empty file without a lock keeps nobody out.
                return;
            } finally {
                here.unlock();
            }
        }
    }
}
