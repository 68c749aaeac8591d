package ohmprint.app.workspace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import ohmprint.app.BadInputException;

/** A folder for files between a use case that works with files and one who asks for bytes; it goes with its content. */
final class TempDirectory implements AutoCloseable {
    private final Path folder;

    private TempDirectory(Path folder) {
        this.folder = folder;
    }

    /** A new one, which nobody else may read. */
    static TempDirectory make() throws IOException {
        return new TempDirectory(Files.createTempDirectory("ohmprint-"));
    }

    /** A file in it. */
    Path file(String name) {
        return folder.resolve(name);
    }

    /** An objection without the place of this folder, which tells a user nothing. */
    BadInputException plain(BadInputException e) {
        String message = String.valueOf(e.getMessage())
                .replace(folder + folder.getFileSystem().getSeparator(), "");
        return new BadInputException(message, e);
    }

    @Override
    public void close() throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : files.toList()) {
                Files.deleteIfExists(file);
            }
        }
        Files.deleteIfExists(folder);
    }
}
