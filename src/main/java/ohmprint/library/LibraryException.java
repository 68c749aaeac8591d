package ohmprint.library;

/** A library cannot do what it was asked; the message names the library, the reason and the next step. */
public final class LibraryException extends Exception {
    private static final long serialVersionUID = 1;

    /** A message for the user. */
    public LibraryException(String message) {
        super(message);
    }

    /** A message for the user, with what led to it. */
    public LibraryException(String message, Throwable cause) {
        super(message, cause);
    }
}
