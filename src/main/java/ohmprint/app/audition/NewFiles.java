package ohmprint.app.audition;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import ohmprint.app.BadInputException;
import ohmprint.files.AtomicFile;
import ohmprint.files.Leftovers;

/** Files that appear together, complete, under names that were free; or none of them. */
final class NewFiles {
    private NewFiles() {}

    /** Writes one of the files. */
    interface Content {
        /** Writes all files, each to the temporary path at its place in the list. */
        void write(List<Path> temporary) throws IOException;
    }

    /**
     * Refuses names that are taken or cannot be used, before any work is done.
     *
     * @throws BadInputException naming the file and what to do
     */
    static void check(List<Path> files) throws BadInputException {
        for (Path file : files) {
            Path folder = file.toAbsolutePath().normalize().getParent();
            if (Files.exists(file, LinkOption.NOFOLLOW_LINKS)) {
                throw new BadInputException(
                        file + " exists and is not overwritten; name another file, or remove it first");
            }
            if (folder == null || !Files.isDirectory(folder)) {
                throw new BadInputException(file + " has no folder to lie in; make the folder first");
            }
        }
        if (files.stream().map(f -> f.toAbsolutePath().normalize()).distinct().count() < files.size()) {
            throw new BadInputException(
                    files.get(0) + " is named for two results; name a file of its own for the comparison");
        }
    }

    /**
     * Writes them.
     *
     * @throws IOException if one cannot be written; nothing is left behind then
     */
    static void write(List<Path> files, Content content) throws IOException {
        List<Path> temporary = new ArrayList<>();
        for (Path file : files) {
            temporary.add(Leftovers.beside(file));
        }
        List<Path> appeared = new ArrayList<>();
        try {
            content.write(temporary);
            for (int i = 0; i < files.size(); i++) {
                AtomicFile.place(temporary.get(i), files.get(i));
                appeared.add(files.get(i));
            }
        } catch (IOException | RuntimeException e) {
            for (Path file : appeared) {
                Files.deleteIfExists(file);
            }
            if (e instanceof FileAlreadyExistsException) {
                throw new IOException(
                        e.getMessage() + " appeared meanwhile and is not overwritten; name another file", e);
            }
            if (e instanceof AccessDeniedException) {
                throw new IOException(files.get(0) + " cannot be written (permission denied); name another folder", e);
            }
            throw e;
        } finally {
            for (Path file : temporary) {
                Files.deleteIfExists(file);
            }
        }
    }
}
