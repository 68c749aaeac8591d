package ohmprint.exchange;

import java.io.IOException;

/** A file that is not what it should be; the message names the file, the place, the fault and the next step. */
public final class ExchangeException extends IOException {
    /** With a message for the user. */
    public ExchangeException(String message) {
        super(message);
    }

    /** With a message for the user and the failure beneath it. */
    public ExchangeException(String message, Throwable cause) {
        super(message, cause);
    }
}
