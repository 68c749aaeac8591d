package ohmprint.app.library;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import ohmprint.app.BadInputException;
import ohmprint.app.LibraryReference;
import ohmprint.app.NamedCurve;
import ohmprint.exchange.CurveJson;
import ohmprint.library.CurveLibrary;
import ohmprint.library.LibraryException;
import ohmprint.library.NewMeasurement;
import org.jspecify.annotations.Nullable;

/**
 * What a curve argument stands for: {@code library:ID}, an identifier alone where there is no file of that name, or a file
 * as {@link NamedCurve} reads it.
 *
 * @param curve what it holds
 * @param id its identifier when it is a measurement of the library, else null
 */
record CurveArgument(NamedCurve curve, @Nullable String id) {
    static CurveArgument read(CurveLibrary library, String text)
            throws BadInputException, IOException, LibraryException {
        if (!namesAnEntry(text)) {
            return new CurveArgument(NamedCurve.of(text), null);
        }
        NamedCurve curve = LibraryReference.read(library, text);
        return new CurveArgument(curve, curve.name().substring(LibraryReference.PREFIX.length()));
    }

    /**
     * The identifier that it has in every library, whether it is in this one or not.
     *
     * @param text what it was read from
     */
    String ownId(String text) throws BadInputException, IOException {
        return id != null
                ? id
                : new NewMeasurement(CurveJson.text(NamedCurve.file(text)), curve.measurement(), "", null).id();
    }

    /** True when it cannot be a file. */
    static boolean namesAnEntry(String text) {
        return text.startsWith(LibraryReference.PREFIX)
                || (text.matches("[0-9a-fA-F]{4,12}") && !Files.exists(Path.of(text)));
    }
}
