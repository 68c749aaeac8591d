package ohmprint.app.workspace;

import ohmprint.app.BadInputException;

/** What was asked for is not there. */
public final class MissingException extends BadInputException {
    private static final long serialVersionUID = 1;

    /** A message for the user. */
    public MissingException(String message) {
        super(message);
    }
}
