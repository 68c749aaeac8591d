package ohmprint.app.workspace;

import java.io.IOException;
import ohmprint.app.BadInputException;
import ohmprint.app.check.CheckCurve;
import ohmprint.app.check.CheckOutcome;
import ohmprint.app.library.LibraryConnection;
import ohmprint.app.library.ReadLibrary;
import ohmprint.conformity.Specification;
import org.jspecify.annotations.Nullable;

/** Whether curves keep to their limits. */
public final class ConformityService {
    private static final String OWN_TEXT = "these limits";

    private final LibraryConnection library;
    private final CurveRepository curves;

    ConformityService(LibraryConnection library, CurveRepository curves) {
        this.library = library;
        this.curves = curves;
    }

    /** Checks a curve against a specification. */
    public CheckOutcome check(Request form) throws BadInputException, IOException {
        String name = form.specification();
        String yaml = form.yaml();
        if ((name == null) == (yaml == null)) {
            throw new BadInputException((name == null ? "no limits are given" : "limits are given twice")
                    + "; give the name of a specification in the library, or a text");
        }
        Specification specification = name != null
                ? curves.specification(ReadLibrary.specification(library, name), name)
                : curves.specification(yaml == null ? "" : yaml, OWN_TEXT);
        return CheckCurve.decide(curves.stored(form.ref()).measurement(), specification);
    }

    /**
     * What to check, against a specification of the library or one that comes as a text.
     *
     * @param curve name of the curve
     * @param specification name of a specification in the library, or null
     * @param yaml text of a specification, or null
     */
    public record Request(
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
}
