package ohmprint.app;

/** What the user gave cannot be worked with; the message names the thing, the value, the unit and the next step. */
public class BadInputException extends Exception {
    private static final long serialVersionUID = 1;

    /** A message for the user. */
    public BadInputException(String message) {
        super(message);
    }

    /** A message for the user, with what led to it. */
    public BadInputException(String message, Throwable cause) {
        super(message, cause);
    }
}
