package ohmprint.app.library;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import ohmprint.app.BadInputException;
import ohmprint.files.AtomicFile;

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
        if (replace && Files.isDirectory(file)) {
            throw new BadInputException(file + " is a folder; name a new file");
        }
        try {
            AtomicFile.Content<BadInputException> whole = part -> {
                try (OutputStream out = Files.newOutputStream(part, StandardOpenOption.CREATE_NEW)) {
                    content.writeTo(out);
                }
            };
            if (replace) {
                AtomicFile.replace(file, whole);
            } else {
                AtomicFile.create(file, whole);
            }
        } catch (FileAlreadyExistsException e) {
            throw new BadInputException(file + " is there already; name a new file", e);
        } catch (IOException e) {
            String why = e instanceof AccessDeniedException
                    ? "permission denied"
                    : e instanceof NoSuchFileException ? "its folder is not there" : String.valueOf(e.getMessage());
            throw new IOException(
                    file + " cannot be written (" + why
                            + "); nothing was changed: free some space or name another file",
                    e);
        }
    }
}
