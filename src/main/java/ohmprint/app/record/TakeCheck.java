package ohmprint.app.record;

import java.io.IOException;
import java.util.List;
import ohmprint.impedance.Finding;

/** A check of a take as soon as it is recorded; a further one joins the list in {@link TakeChecks}. */
@FunctionalInterface
interface TakeCheck {
    /**
     * What is worth a word about it.
     *
     * @throws IOException if its file cannot be read
     */
    List<Finding> of(RecordedTake recorded) throws IOException;
}
