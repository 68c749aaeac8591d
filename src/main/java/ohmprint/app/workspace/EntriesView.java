package ohmprint.app.workspace;

import java.util.List;

/**
 * What was found in the library, newest first.
 *
 * @param library the library, without secrets
 * @param total how many there are in all
 * @param entries no more than were asked for
 */
public record EntriesView(String library, int total, List<EntryView> entries) {}
