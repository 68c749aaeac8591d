package ohmprint.exchange;

import java.io.IOException;
import java.util.stream.Collectors;
import java.util.stream.Stream;

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

    /** A word that stands for nothing known. */
    static ExchangeException unknown(String place, String word, Stream<String> known) {
        String choice = known.collect(Collectors.joining(", "));
        return new ExchangeException(place + ": \"" + word + "\" is not known; use one of " + choice);
    }
}
