package ohmprint.app.workspace;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A curve that goes into the library.
 *
 * @param curve {@code session:NAME}
 * @param operator who measured or hands it in; null for who usually does
 * @param notes free text, or null
 * @param again whether it is added although it was removed once
 */
public record KeepForm(
        @Nullable String curve,
        @Nullable String operator,
        @Nullable String notes,
        @Nullable Boolean again) {
    /**
     * What became of it.
     *
     * @param id its identifier
     * @param fresh false when the library held it already, so that nothing was changed
     * @param notes what of the request was not saved; often none
     */
    public record Kept(String id, boolean fresh, List<String> notes) {}
}
