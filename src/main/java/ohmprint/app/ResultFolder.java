package ohmprint.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A folder of results that appears whole or not at all.
 *
 * <p>Files are written into a temporary folder beside the target, which is renamed when all are complete. Earlier results
 * are replaced only then; a folder that holds anything else is not touched.
 */
public final class ResultFolder {
    /** Names that the result of a measurement may hold: what may be replaced. */
    static final Set<String> KNOWN =
            Set.of("curve.csv", "curve.json", "curve.s1p", "curve.svg", "curve.png", "lines.svg");

    private ResultFolder() {}

    /**
     * Refuses a target that holds other things than results of a measurement, before any work is done.
     *
     * @throws BadInputException naming what stands there
     */
    static void check(Path target) throws BadInputException, IOException {
        check(target, KNOWN, "a measurement");
    }

    /**
     * Refuses a target that holds other things than results, before any work is done.
     *
     * @param known names of files that may be replaced
     * @param of what the results are of, for the message
     * @throws BadInputException naming what stands there
     */
    public static void check(Path target, Set<String> known, String of) throws BadInputException, IOException {
        if (Files.exists(target) && !Files.isDirectory(target)) {
            throw new BadInputException("--out " + target + " is a file; name a folder");
        }
        if (!Files.isDirectory(target)) {
            return;
        }
        try (var entries = Files.list(target)) {
            List<String> strangers = entries.map(p -> String.valueOf(p.getFileName()))
                    .filter(n -> !known.contains(n))
                    .sorted()
                    .toList();
            if (!strangers.isEmpty()) {
                throw new BadInputException("--out " + target + " holds " + strangers.get(0)
                        + ", which is no result of " + of + "; name another folder, so that nothing is lost");
            }
        }
    }

    /**
     * Writes all files.
     *
     * @param target the folder to appear
     * @param files content by file name
     */
    public static void write(Path target, Map<String, byte[]> files) throws IOException {
        try {
            writeWhole(target, files);
        } catch (IOException e) {
            String reason = e instanceof AccessDeniedException ? "permission denied" : String.valueOf(e.getMessage());
            throw new IOException(
                    "the results cannot be written to " + target + " (" + reason
                            + "); nothing has been changed there: free some space or name another folder with --out",
                    e);
        }
    }

    private static void writeWhole(Path target, Map<String, byte[]> files) throws IOException {
        Path absolute = target.toAbsolutePath().normalize();
        Path parent = absolute.getParent() == null ? absolute : absolute.getParent();
        Path existing = firstExisting(parent);
        Files.createDirectories(parent);
        Path fresh = fresh(parent);
        Path old = null;
        try {
            for (Map.Entry<String, byte[]> file : files.entrySet()) {
                Files.write(fresh.resolve(file.getKey()), file.getValue());
            }
            if (Files.exists(absolute)) {
                old = fresh(parent).resolve("old");
                Files.move(absolute, old, StandardCopyOption.ATOMIC_MOVE);
            }
            Files.move(fresh, absolute, StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException e) {
            if (old != null && Files.exists(old) && !Files.exists(absolute)) {
                Files.move(old, absolute);
            }
            delete(fresh);
            removeEmpty(parent, existing);
            throw e;
        } finally {
            delete(old == null ? null : old.getParent());
        }
    }

    /** A new folder beside the target, with the permissions that any new folder gets there. */
    private static Path fresh(Path parent) throws IOException {
        return Files.createDirectory(parent.resolve(".ohmprint-" + UUID.randomUUID()));
    }

    private static Path firstExisting(Path path) {
        Path p = path;
        while (!Files.exists(p) && p.getParent() != null) {
            p = p.getParent();
        }
        return p;
    }

    private static void removeEmpty(Path from, Path keep) throws IOException {
        for (Path p = from; !p.equals(keep) && p.getParent() != null; p = p.getParent()) {
            Files.deleteIfExists(p);
        }
    }

    private static void delete(@Nullable Path folder) {
        if (folder == null || !Files.exists(folder)) {
            return;
        }
        try {
            Files.walkFileTree(folder, new SimpleFileVisitor<>() {
                @Override
                public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) throws IOException {
                    Files.delete(file);
                    return FileVisitResult.CONTINUE;
                }

                @Override
                public FileVisitResult postVisitDirectory(Path dir, @Nullable IOException e) throws IOException {
                    Files.delete(dir);
                    return FileVisitResult.CONTINUE;
                }
            });
        } catch (IOException e) {
            throw new UncheckedIOException("cannot remove the temporary folder " + folder, e);
        }
    }

    /** UTF-8 bytes of a text. */
    public static byte[] utf8(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }
}
