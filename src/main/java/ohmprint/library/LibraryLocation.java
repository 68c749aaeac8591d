package ohmprint.library;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** Where a library is: a file, or a database of a server. What it prints holds no secret. */
public abstract sealed class LibraryLocation permits LibraryFile, LibraryServer {
    /** The variable that names the library to use unless a command names another. */
    private static final String VARIABLE = "OHMPRINT_LIBRARY";

    /**
     * The library that a user means: what was given, else what {@link #VARIABLE} names, else the file
     * {@code ohmprint/library.db} in the folder for data of this user, {@code $XDG_DATA_HOME} or
     * {@code ~/.local/share}. Source of the folder: XDG Base Directory Specification 0.8.
     *
     * @param given a path, or {@code jdbc:postgresql://HOST[:PORT]/DATABASE}; null or empty when not given
     * @param environment variables of the process
     * @throws LibraryException if it is neither, or holds a password
     */
    public static LibraryLocation of(@Nullable String given, Map<String, String> environment) throws LibraryException {
        String text = given == null || given.isEmpty() ? environment.getOrDefault(VARIABLE, "") : given;
        if (text.isEmpty()) {
            return new LibraryFile(usual(environment));
        }
        String lower = text.toLowerCase(Locale.ROOT);
        if (lower.startsWith(LibraryServer.SCHEME)) {
            return LibraryServer.parse(text, environment);
        }
        // Only the kind of address is repeated: the rest may hold a password.
        int colon = lower.indexOf("://");
        if (colon >= 0 || lower.startsWith("jdbc:")) {
            throw new LibraryException("a library address that begins with "
                    + lower.substring(0, colon >= 0 ? colon : lower.indexOf(':')) + ": cannot be used; give the path of"
                    + " a file, or " + LibraryServer.SCHEME + "HOST/DATABASE");
        }
        try {
            return new LibraryFile(Path.of(text));
        } catch (InvalidPathException e) {
            throw new LibraryException("the library " + text + " cannot be a path here; give the path of a file", e);
        }
    }

    /**
     * Opens the library that is there.
     *
     * @param make whether an empty one is made where there is none
     */
    abstract Database open(boolean make) throws LibraryException;

    private static Path usual(Map<String, String> environment) {
        String data = environment.getOrDefault("XDG_DATA_HOME", "");
        // A relative path there is invalid and to be ignored, says the source.
        Path folder = data.startsWith("/")
                ? Path.of(data)
                : Path.of(environment.getOrDefault("HOME", System.getProperty("user.home", "")))
                        .resolve(".local/share");
        return folder.resolve("ohmprint/library.db");
    }
}
