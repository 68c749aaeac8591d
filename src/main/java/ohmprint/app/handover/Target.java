package ohmprint.app.handover;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.files.AtomicFile;

/** The file to write: complete or not there at all. */
final class Target {
    private Target() {}

    /**
     * Objects before anything is computed.
     *
     * @throws BadInputException if the file cannot be written there
     */
    static void check(Path file) throws BadInputException {
        if (Files.isDirectory(file)) {
            throw new BadInputException(file + " is a folder; give --out the name of a file, such as sheet.pdf");
        }
        Path folder = folder(file);
        if (!Files.isDirectory(folder)) {
            throw new BadInputException(folder + " is not there; make the folder first, or name another file");
        }
    }

    static void write(Path file, byte[] bytes) throws IOException {
        AtomicFile.replace(file, bytes);
    }

    private static Path folder(Path file) {
        Path parent = file.toAbsolutePath().getParent();
        return parent == null ? file.toAbsolutePath() : parent;
    }
}
