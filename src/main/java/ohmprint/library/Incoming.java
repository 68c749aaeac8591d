package ohmprint.library;

import java.util.List;

/**
 * What another library handed out.
 *
 * @param measurements one after the other, so that they need not all be in memory
 * @param links between them, or with what is there
 * @param specifications their newest revisions
 */
public record Incoming(
        Iterable<NewMeasurement> measurements, List<Link> links, List<KeptSpecification> specifications) {
    /** Copies the lists. */
    public Incoming {
        links = List.copyOf(links);
        specifications = List.copyOf(specifications);
    }
}
