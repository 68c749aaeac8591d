package ohmprint.app.library;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.files.AtomicFile;

/** Writes files that appear whole or not at all, and says in words why one cannot be written. */
public final class WholeFile {
    private WholeFile() {}

    /**
     * Writes a file, in place of an older one.
     *
     * @throws IOException if it cannot be written; the message names the file
     */
    public static void replace(Path file, byte[] content) throws IOException, BadInputException {
        if (Files.isDirectory(file)) {
            throw new BadInputException(file + " is a folder; name a new file");
        }
        try {
            AtomicFile.replace(file, content);
        } catch (IOException e) {
            throw inWords(file, e);
        }
    }

    /**
     * Writes a new file.
     *
     * @throws BadInputException if it is there already
     */
    static void create(Path file, AtomicFile.Content<BadInputException> content) throws IOException, BadInputException {
        try {
            AtomicFile.create(file, content);
        } catch (FileAlreadyExistsException e) {
            throw new BadInputException(file + " is there already; name a new file", e);
        } catch (IOException e) {
            throw inWords(file, e);
        }
    }

    private static IOException inWords(Path file, IOException e) {
        String why = e instanceof AccessDeniedException
                ? "permission denied"
                : e instanceof NoSuchFileException ? "its folder is not there" : String.valueOf(e.getMessage());
        return new IOException(
                file + " cannot be written (" + why + "); nothing was changed: free some space or name another file",
                e);
    }
}
