package ohmprint.app.workspace;

import ohmprint.app.BadInputException;
import org.jspecify.annotations.Nullable;

/**
 * What to check, against a specification of the library or one that comes as a text.
 *
 * @param curve name of the curve
 * @param specification name of a specification in the library, or null
 * @param yaml text of a specification, or null
 */
public record CheckForm(
        @Nullable String curve,
        @Nullable String specification,
        @Nullable String yaml) {
    String ref() throws BadInputException {
        if (curve == null || curve.isBlank()) {
            throw new BadInputException("no curve is named; name one as session:NAME or library:ID");
        }
        return curve;
    }
}
