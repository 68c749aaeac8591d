package ohmprint.app.workspace;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.library.LibraryPlace;
import ohmprint.app.library.ReadLibrary;
import ohmprint.curve.Measurement;
import ohmprint.exchange.SpecificationYaml;
import ohmprint.manifest.ManifestException;
import ohmprint.spec.Specification;

/**
 * Specifications by their names in the library, or as texts. A curve that one refers to is named as everywhere on the page.
 *
 * @param library where they are kept
 * @param curves the curves that they may name
 */
record Limits(LibraryPlace library, Curves curves) {
    /**
     * The specification of that name.
     *
     * @throws BadInputException if the library holds none
     */
    Specification named(String name) throws BadInputException, IOException {
        return read(ReadLibrary.specification(library, name), name);
    }

    /**
     * What a text says.
     *
     * @param yaml the text
     * @param name its name, unless it states another
     * @throws BadInputException with everything that is wrong with it
     */
    Specification read(String yaml, String name) throws BadInputException {
        try {
            return SpecificationYaml.read(yaml, name, this::curve);
        } catch (ManifestException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
    }

    private Measurement curve(String ref) throws IOException {
        try {
            return curves.stored(ref).measurement();
        } catch (BadInputException e) {
            throw new IOException(e.getMessage(), e);
        }
    }
}
