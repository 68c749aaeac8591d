package ohmprint.library;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** Takes in what another library handed out. What is here already stays as it is; where the two disagree is told. */
final class TakingIn {
    private final Handle handle;
    private final List<String> added = new ArrayList<>();
    private final List<String> specifications = new ArrayList<>();
    private final List<String> conflicts = new ArrayList<>();
    private int known;
    private int links;

    TakingIn(Handle handle) {
        this.handle = handle;
    }

    TakenIn run(Incoming incoming) throws SQLException {
        for (NewMeasurement measurement : incoming.measurements()) {
            measurement(measurement);
        }
        for (Link link : incoming.links()) {
            link(link);
        }
        for (KeptSpecification specification : incoming.specifications()) {
            specification(specification);
        }
        return new TakenIn(added, known, links, specifications, conflicts);
    }

    private void measurement(NewMeasurement measurement) throws SQLException {
        try {
            Added result = Adding.add(handle, measurement, false);
            if (result.fresh()) {
                added.add(result.id());
                return;
            }
            known++;
            Entry here = Listing.entry(handle, result.id()).orElseThrow();
            if (!here.operator().equals(measurement.operator())) {
                conflicts.add(here.id() + ": the operator is " + here.operator() + " here and " + measurement.operator()
                        + " there; kept as it is here");
            }
            if (!Objects.equals(here.note(), measurement.note())) {
                conflicts.add(here.id() + ": the note differs; kept as it is here");
            }
        } catch (LibraryException e) {
            conflicts.add(String.valueOf(e.getMessage()));
        }
    }

    private void link(Link link) throws SQLException {
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
            if (Links.make(handle, link)) {
                links++;
            }
        } catch (LibraryException e) {
            conflicts.add("link " + what + ": " + e.getMessage());
        }
    }

    private void specification(KeptSpecification s) throws SQLException {
        Optional<KeptSpecification> here = Specifications.newest(handle, s.name());
        if (here.isPresent()) {
            if (!here.get().sha256().equals(s.sha256())) {
                conflicts.add("specification " + s.name()
                        + ": its text differs here; kept as it is here, add the other under another name");
            }
            return;
        }
        try {
            Specifications.put(handle, s.name(), s.yaml(), s.by(), s.at());
            specifications.add(s.name());
        } catch (LibraryException e) {
            conflicts.add(String.valueOf(e.getMessage()));
        }
    }
}
