package ohmprint.files;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileVisitOption;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.EnumSet;
import java.util.HexFormat;
import org.jspecify.annotations.Nullable;

/**
 * What files looked like from outside when they were read: path, size, time of change and the key that the file system
 * gives each file. What was read is still right as long as they look the same.
 *
 * <p>A file that is changed twice within the resolution of its time may look the same after both. So what is read of a file
 * that young is believed only once. Linux writes times in steps of some milliseconds, the coarsest file systems in whole
 * seconds, every second one; a time with a fraction of a second is none of those. A change that keeps size, time and file,
 * made on purpose, is not seen.
 */
public final class FileStamp {
    private static final Duration COARSEST = Duration.ofMillis(2500);
    private static final Duration FINE = Duration.ofMillis(50);

    private final String digest;
    private final boolean settled;

    private FileStamp(String digest, boolean settled) {
        this.digest = digest;
        this.settled = settled;
    }

    /** Of some files, in their order; links are followed, and files that are not there count, too. */
    public static FileStamp of(Collection<Path> files) {
        Look look = new Look(Path.of(""));
        for (Path file : files) {
            try {
                look.add(file, Files.readAttributes(file, BasicFileAttributes.class));
            } catch (IOException e) {
                look.add(file.toString(), -1, 0, null);
            }
        }
        return look.stamp();
    }

    /**
     * Of all files in a folder and the folders below.
     *
     * @param deepest how many folders below; where it goes deeper, or a link may lead anywhere, no stamp equals another
     */
    public static FileStamp ofAllIn(Path folder, int deepest) throws IOException {
        Look look = new Look(folder);
        Files.walkFileTree(folder, EnumSet.noneOf(FileVisitOption.class), deepest, look);
        return look.stamp();
    }

    /** Whether what was read when this stamp was made is still right when files look like that. */
    public boolean holds(FileStamp now) {
        return settled && digest.equals(now.digest);
    }

    /** Collects what files look like. */
    private static final class Look extends SimpleFileVisitor<Path> {
        private final Path base;
        private final MessageDigest digest;
        private final Instant now = Instant.now();
        private boolean settled = true;

        Look(Path base) {
            this.base = base;
            try {
                this.digest = MessageDigest.getInstance("SHA-256");
            } catch (NoSuchAlgorithmException e) {
                throw new IllegalStateException("every Java has SHA-256", e);
            }
        }

        @Override
        public FileVisitResult visitFile(Path file, BasicFileAttributes is) {
            // What a link leads to, and what lies deeper, is not looked at.
            settled &= is.isRegularFile();
            add(base.relativize(file), is);
            return FileVisitResult.CONTINUE;
        }

        @Override
        public FileVisitResult visitFileFailed(Path file, IOException e) {
            // It has gone meanwhile, or may not be read.
            settled = false;
            return FileVisitResult.CONTINUE;
        }

        void add(Path file, BasicFileAttributes is) {
            Instant changed = is.lastModifiedTime().toInstant();
            boolean wholeSeconds = changed.equals(changed.truncatedTo(ChronoUnit.SECONDS));
            settled &= changed.isBefore(now.minus(wholeSeconds ? COARSEST : FINE));
            add(file.toString(), is.size(), nanos(changed), is.fileKey());
        }

        private static long nanos(Instant time) {
            return time.getEpochSecond() * 1_000_000_000 + time.getNano();
        }

        void add(String name, long size, long time, @Nullable Object key) {
            digest.update((name + "\0" + size + "\0" + time + "\0" + key + "\0").getBytes(StandardCharsets.UTF_8));
        }

        FileStamp stamp() {
            return new FileStamp(HexFormat.of().formatHex(digest.digest()), settled);
        }
    }
}
