package ohmprint.app.library;

import java.io.IOException;
import java.util.Map;
import ohmprint.app.BadInputException;
import ohmprint.library.CurveLibrary;
import ohmprint.library.LibraryException;
import ohmprint.library.LibraryLocation;
import org.jspecify.annotations.Nullable;

/**
 * Which library is meant.
 *
 * @param given path or address as a user gave it, or null for the usual one
 * @param environment variables of the process
 */
public record LibraryConnection(@Nullable String given, Map<String, String> environment) {
    private static final String OPERATOR = "OHMPRINT_OPERATOR";

    /** Copies the variables. */
    public LibraryConnection {
        environment = Map.copyOf(environment);
    }

    /** Who works here unless a command says otherwise: OHMPRINT_OPERATOR, or the login of the system. */
    public String usualOperator() {
        String stated = environment.getOrDefault(OPERATOR, "").strip();
        return stated.isEmpty() ? System.getProperty("user.name", "unknown") : stated;
    }

    /** Secrets stay out of it. */
    @Override
    public String toString() {
        return "LibraryPlace";
    }

    /** Work on an open library. */
    @FunctionalInterface
    interface Work<T> {
        T on(CurveLibrary library) throws LibraryException, BadInputException, IOException;
    }

    /** Works on a library that is there. */
    <T> T with(Work<T> work) throws BadInputException, IOException {
        return with(false, work);
    }

    /** Works on a library, which is made when it is not there. */
    <T> T made(Work<T> work) throws BadInputException, IOException {
        return with(true, work);
    }

    private <T> T with(boolean make, Work<T> work) throws BadInputException, IOException {
        try {
            LibraryLocation location = LibraryLocation.of(given, environment);
            try (CurveLibrary library = make ? CurveLibrary.openOrMake(location) : CurveLibrary.open(location)) {
                return work.on(library);
            }
        } catch (LibraryException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }
}
