package ohmprint.app.workspace;

import java.util.List;
import ohmprint.app.BadInputException;
import org.jspecify.annotations.Nullable;

/**
 * Recordings directly in the workspace that a session gets copies of.
 *
 * @param files their names, one or more
 */
public record AdoptForm(@Nullable List<String> files) {
    List<String> names() throws BadInputException {
        if (files == null || files.isEmpty() || files.contains(null)) {
            throw new BadInputException("no recording is named; name one or more of those beside the sessions");
        }
        return files;
    }
}
