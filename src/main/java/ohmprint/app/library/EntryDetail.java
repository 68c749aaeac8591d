package ohmprint.app.library;

import java.util.List;
import ohmprint.curve.Measurement;
import ohmprint.library.Entry;
import ohmprint.library.Link;

/**
 * One measurement with everything about it.
 *
 * @param entry as lists show it
 * @param measurement what was measured
 * @param document its {@code curve.json}, as it was added
 * @param links links with other measurements
 */
public record EntryDetail(Entry entry, Measurement measurement, String document, List<Link> links) {
    /** Copies the links. */
    public EntryDetail {
        links = List.copyOf(links);
    }
}
