package ohmprint.app.workspace;

import ohmprint.app.BadInputException;

/** What was asked for is possible, but not as things stand now. */
public final class ConflictException extends BadInputException {
    private static final long serialVersionUID = 1;

    /** A message for the user. */
    public ConflictException(String message) {
        super(message);
    }
}
