package ohmprint.app.library;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What goes into a library.
 *
 * @param curves folders of results or {@code curve.json} files, at least one
 * @param operator who measured or hands it in
 * @param note free text, or null
 * @param supersedes identifier of the measurement that the only curve takes the place of, or null
 * @param repairOf identifier of the measurement before the repair after which the only curve was measured, or null
 * @param again whether it is added although it was removed once
 */
public record AddRequest(
        List<String> curves,
        String operator,
        @Nullable String note,
        @Nullable String supersedes,
        @Nullable String repairOf,
        boolean again) {
    /** Copies the list. */
    public AddRequest {
        curves = List.copyOf(curves);
    }
}
