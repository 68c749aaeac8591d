package ohmprint.files;

import java.io.IOException;
import java.nio.file.DirectoryIteratorException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * What a program that was killed leaves behind: files and folders under hidden names that only this program gives. They
 * are removed when they are so old that nobody can be writing them any more.
 */
public final class Leftovers {
    private static final String PREFIX = ".ohmprint-";
    private static final String UUID_PATTERN = "[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}";

    /** Also names of earlier versions. */
    private static final Pattern OURS =
            Pattern.compile("(\\.ohmprint-|\\.session-|\\.session\\.yaml\\.)" + UUID_PATTERN);

    /** Writing takes seconds; a take that is recorded has a name of its own. */
    private static final Duration OLD = Duration.ofHours(1);

    private Leftovers() {}

    /** A new hidden name in a folder. */
    public static Path name(Path folder) {
        return folder.resolve(PREFIX + UUID.randomUUID());
    }

    /** A new hidden name beside a file. */
    public static Path beside(Path file) {
        return file.resolveSibling(PREFIX + UUID.randomUUID());
    }

    /** Whether a name is one of those. */
    static boolean isOurs(String name) {
        return OURS.matcher(name).matches();
    }

    /**
     * Removes what is old. What cannot be removed, or holds anything but files, stays.
     *
     * @param folder where to look; not below
     */
    public static void tidy(Path folder) {
        Instant since = Instant.now().minus(OLD);
        try (DirectoryStream<Path> all =
                Files.newDirectoryStream(folder, f -> isOurs(String.valueOf(f.getFileName())))) {
            for (Path one : all) {
                tidyOne(one, since);
            }
        } catch (IOException | DirectoryIteratorException e) {
            // A folder that cannot be read or written: then there is nothing to tidy.
            return;
        }
    }

    private static void tidyOne(Path one, Instant since) throws IOException {
        BasicFileAttributes is = attributes(one);
        if (is.lastModifiedTime().toInstant().isAfter(since)) {
            return;
        }
        if (is.isRegularFile()) {
            Files.deleteIfExists(one);
        } else if (is.isDirectory()) {
            List<Path> held = held(one);
            for (Path file : held) {
                BasicFileAttributes inside = attributes(file);
                if (!inside.isRegularFile()
                        || inside.lastModifiedTime().toInstant().isAfter(since)) {
                    return;
                }
            }
            remove(one);
        }
    }

    private static BasicFileAttributes attributes(Path file) throws IOException {
        return Files.readAttributes(file, BasicFileAttributes.class, LinkOption.NOFOLLOW_LINKS);
    }

    private static List<Path> held(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.toList();
        }
    }

    /** Removes a file or a folder that this program made, with what is in it; nothing that a link points at. */
    public static void remove(Path one) throws IOException {
        if (Files.isDirectory(one, LinkOption.NOFOLLOW_LINKS)) {
            for (Path inside : held(one)) {
                remove(inside);
            }
        }
        Files.deleteIfExists(one);
    }
}
