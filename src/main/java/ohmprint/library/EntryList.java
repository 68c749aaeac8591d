package ohmprint.library;

import java.util.List;

/**
 * The first of what was found, newest first.
 *
 * @param library the library, without secrets
 * @param entries no more than were asked for
 * @param total how many there are in all
 */
public record EntryList(String library, List<Entry> entries, int total) {
    /** Copies the list. */
    public EntryList {
        entries = List.copyOf(entries);
    }
}
