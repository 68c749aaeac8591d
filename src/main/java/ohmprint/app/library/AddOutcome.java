package ohmprint.app.library;

import java.util.List;

/**
 * What became of a curve that was added.
 *
 * @param source where it was read
 * @param id its identifier
 * @param label what the bench calls the microphone
 * @param fresh false when the library held it already, so that nothing was changed
 * @param notes what to know about it: what was not saved, what speaks against a link; often none
 */
public record AddOutcome(String source, String id, String label, boolean fresh, List<String> notes) {
    /** Copies the list. */
    public AddOutcome {
        notes = List.copyOf(notes);
    }
}
