package ohmprint.library;

import java.util.List;

/**
 * What became of what another library handed out.
 *
 * @param added identifiers of measurements that are new here
 * @param known how many measurements were here already
 * @param links how many links are new
 * @param specifications names of specifications that are new
 * @param conflicts what was not taken in, and why, in words
 */
public record TakenIn(List<String> added, int known, int links, List<String> specifications, List<String> conflicts) {
    /** Copies the lists. */
    public TakenIn {
        added = List.copyOf(added);
        specifications = List.copyOf(specifications);
        conflicts = List.copyOf(conflicts);
    }
}
