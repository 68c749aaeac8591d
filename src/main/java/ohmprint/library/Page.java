package ohmprint.library;

import java.util.List;

/**
 * The first of what was found, newest first.
 *
 * @param entries no more than were asked for
 * @param total how many there are in all
 */
public record Page(List<Entry> entries, int total) {
    /** Copies the list. */
    public Page {
        entries = List.copyOf(entries);
    }
}
