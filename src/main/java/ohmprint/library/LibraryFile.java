package ohmprint.library;

import java.nio.file.Path;

/**
 * A library in one file.
 *
 * @param path the file; it need not exist
 */
public record LibraryFile(Path path) implements LibraryLocation {
    @Override
    public String toString() {
        return path.toString();
    }
}
