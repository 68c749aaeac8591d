package ohmprint.app;

import java.util.Optional;
import ohmprint.exchange.CurveJson;
import ohmprint.exchange.ExchangeException;
import ohmprint.library.CurveLibrary;
import ohmprint.library.Entry;
import ohmprint.library.LibraryException;
import ohmprint.library.LibraryLocation;

/** A measurement of the library, named as {@code library:ID} wherever a curve can be named. */
public final class LibraryReference {
    /** What such a name begins with. */
    public static final String PREFIX = "library:";

    private LibraryReference() {}

    /**
     * Reads a measurement from the library that the environment names, if the reference is one to a library.
     *
     * @param reference {@code library:} and the identifier, of which the first four digits or more are enough
     * @return empty when it does not begin with {@link #PREFIX}
     * @throws BadInputException if the library cannot be opened or holds no such measurement
     */
    static Optional<NamedCurve> read(String reference) throws BadInputException {
        if (!reference.startsWith(PREFIX)) {
            return Optional.empty();
        }
        try (CurveLibrary library = CurveLibrary.open(LibraryLocation.of(null, System.getenv()))) {
            return Optional.of(read(library, reference));
        } catch (LibraryException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    /** The identifier in a reference, or what there is of it: the reference without {@link #PREFIX}. */
    public static String id(String reference) {
        return reference.startsWith(PREFIX) ? reference.substring(PREFIX.length()) : reference;
    }

    /**
     * Reads a measurement from an open library.
     *
     * @param reference the identifier, with {@link #PREFIX} or without
     */
    public static NamedCurve read(CurveLibrary library, String reference) throws LibraryException {
        Entry entry = library.entry(id(reference));
        return read(entry, library.document(entry));
    }

    /** Reads the document of an entry. */
    public static NamedCurve read(Entry entry, String document) throws LibraryException {
        String name = PREFIX + entry.id();
        try {
            return new NamedCurve(name, CurveJson.read(document, name));
        } catch (ExchangeException e) {
            throw new LibraryException(
                    name + " cannot be read: " + e.getMessage() + "; ohmprint library verify looks for more", e);
        }
    }
}
