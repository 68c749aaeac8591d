package ohmprint.app.library;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.UUID;
import ohmprint.app.BadInputException;

/** Writes files that appear whole or not at all. */
public final class WholeFile {
    private WholeFile() {}

    /** What writes the content. */
    @FunctionalInterface
    interface Content {
        void writeTo(OutputStream out) throws IOException, BadInputException;
    }

    /**
     * Writes a file, in place of an older one.
     *
     * @throws IOException if it cannot be written; the message names the file
     */
    public static void replace(Path file, byte[] content) throws IOException, BadInputException {
        write(file, true, out -> out.write(content));
    }

    /**
     * Writes a new file.
     *
     * @throws BadInputException if it is there already
     */
    static void create(Path file, Content content) throws IOException, BadInputException {
        write(file, false, content);
    }

    private static void write(Path file, boolean replace, Content content) throws IOException, BadInputException {
        Path target = file.toAbsolutePath();
        if (Files.exists(target) && (!replace || Files.isDirectory(target))) {
            throw new BadInputException(file + (replace ? " is a folder" : " is there already") + "; name a new file");
        }
        Path fresh = target.resolveSibling(".ohmprint-" + UUID.randomUUID());
        try {
            try (OutputStream out = Files.newOutputStream(fresh)) {
                content.writeTo(out);
            }
            Files.move(fresh, target, StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException e) {
            String why = e instanceof AccessDeniedException
                    ? "permission denied"
                    : e instanceof NoSuchFileException ? "its folder is not there" : String.valueOf(e.getMessage());
            throw new IOException(
                    file + " cannot be written (" + why
                            + "); nothing was changed: free some space or name another file",
                    e);
        } finally {
            Files.deleteIfExists(fresh);
        }
    }
}
