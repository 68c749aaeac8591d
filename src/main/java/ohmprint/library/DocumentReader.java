package ohmprint.library;

import ohmprint.curve.Measurement;

/** Understands the text of a measurement, which the library itself does not. */
@FunctionalInterface
public interface DocumentReader {
    /**
     * What a text says.
     *
     * @param document the text
     * @param name what to call it in messages
     * @throws Exception if it cannot be understood; the message says why
     */
    Measurement read(String document, String name) throws Exception;
}
