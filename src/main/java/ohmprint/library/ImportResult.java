package ohmprint.library;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/**
 * What became of what another library handed out.
 *
 * @param added identifiers of measurements that are new here
 * @param known how many measurements were here already
 * @param links how many links are new
 * @param specifications names of specifications that are new
 * @param conflicts what was not taken in, and why, in words
 */
public record ImportResult(
        List<String> added, int known, int links, List<String> specifications, List<String> conflicts) {
    /** Copies the lists. */
    public ImportResult {
        added = List.copyOf(added);
        specifications = List.copyOf(specifications);
        conflicts = List.copyOf(conflicts);
    }

    /**
     * Takes it in, within a transaction of the caller. What is here already stays as it is; where the two disagree is told.
     *
     * @param measurements one after the other, so that they need not all be in memory
     * @param links between them, or with what is there
     * @param specifications their newest revisions
     */
    static ImportResult of(
            Handle handle,
            Iterable<NewMeasurement> measurements,
            List<Link> links,
            List<KeptSpecification> specifications) {
        Tally tally = new Tally(handle);
        measurements.forEach(tally::add);
        links.forEach(tally::add);
        specifications.forEach(tally::add);
        return new ImportResult(tally.added, tally.known, tally.links, tally.specifications, tally.conflicts);
    }

    /** Adds one thing after the other and counts. */
    private static final class Tally {
        private final Handle handle;
        private final List<String> added = new ArrayList<>();
        private final List<String> specifications = new ArrayList<>();
        private final List<String> conflicts = new ArrayList<>();
        private int known;
        private int links;

        Tally(Handle handle) {
            this.handle = handle;
        }

        void add(NewMeasurement measurement) {
            try {
                NewMeasurement.Added result = measurement.addTo(handle, false);
                if (result.fresh()) {
                    added.add(result.id());
                    return;
                }
                known++;
                Entry here = Listing.entry(handle, result.id()).orElseThrow();
                if (!here.operator().equals(measurement.operator())) {
                    conflicts.add(here.id() + ": the operator is " + here.operator() + " here and "
                            + measurement.operator() + " there; kept as it is here");
                }
                if (!Objects.equals(here.note(), measurement.note())) {
                    conflicts.add(here.id() + ": the note differs; kept as it is here");
                }
            } catch (LibraryException e) {
                conflicts.add(String.valueOf(e.getMessage()));
            }
        }

        void add(Link link) {
            String what = link.from()
                    + (link.kind() == Link.Kind.SUPERSEDED ? " superseded by " : " repaired, then ")
                    + link.to();
            for (String end : List.of(link.from(), link.to())) {
                if (Listing.entry(handle, end).isEmpty()) {
                    conflicts.add("link " + what + ": " + end + " is not in this library; left out");
                    return;
                }
            }
            try {
                if (link.make(handle)) {
                    links++;
                }
            } catch (LibraryException e) {
                conflicts.add("link " + what + ": " + e.getMessage());
            }
        }

        void add(KeptSpecification s) {
            Optional<KeptSpecification> here = KeptSpecification.newest(handle, s.name());
            if (here.isPresent()) {
                if (!here.get().sha256().equals(s.sha256())) {
                    conflicts.add("specification " + s.name()
                            + ": its text differs here; kept as it is here, add the other under another name");
                }
                return;
            }
            try {
                KeptSpecification.put(handle, s.name(), s.yaml(), s.by(), s.at());
                specifications.add(s.name());
            } catch (LibraryException e) {
                conflicts.add(String.valueOf(e.getMessage()));
            }
        }
    }
}
