package ohmprint.cli;

/** An option was given a value that it cannot have; the message names option, value and choices. */
final class UsageException extends Exception {
    private static final long serialVersionUID = 1;

    UsageException(String message) {
        super(message);
    }
}
