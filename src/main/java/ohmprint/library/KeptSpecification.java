package ohmprint.library;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import ohmprint.files.Sha256;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;

/**
 * A specification as the library keeps it; a changed text becomes another revision, and what a text means is not known here.
 *
 * @param name its name
 * @param revision counted from 1
 * @param sha256 SHA-256 of the text
 * @param yaml the text
 * @param by who kept it
 * @param at when
 */
public record KeptSpecification(String name, int revision, String sha256, String yaml, String by, Instant at) {
    private static final String NEWEST =
            "SELECT * FROM specification s WHERE s.revision = (SELECT max(t.revision) FROM specification t WHERE t.name = s.name)";

    private static final RowMapper<KeptSpecification> ROW = (r, context) -> new KeptSpecification(
            r.getString("name"),
            r.getInt("revision"),
            r.getString("sha256"),
            r.getString("yaml"),
            r.getString("made_by"),
            Instant.parse(r.getString("made_at")));

    /**
     * Keeps a text under a name, within a transaction of the caller; the same text as the newest revision changes nothing.
     *
     * @return what is then kept under the name
     */
    static KeptSpecification put(Handle handle, String name, String yaml, String by, Instant at)
            throws LibraryException {
        String sha256 = Sha256.of(yaml);
        Optional<KeptSpecification> newest = newest(handle, name);
        if (newest.isPresent() && newest.get().sha256().equals(sha256)) {
            return newest.get();
        }
        int revision = newest.map(s -> s.revision() + 1).orElse(1);
        boolean inserted = Database.insert(
                handle,
                "specification",
                Map.of(
                        "name", name,
                        "revision", revision,
                        "sha256", sha256,
                        "yaml", yaml,
                        "made_by", by,
                        "made_at", Database.time(at)));
        if (!inserted) {
            throw new LibraryException(
                    "the specification " + name + " was changed by another program at this moment; try again");
        }
        return new KeptSpecification(name, revision, sha256, yaml, by, at);
    }

    /** The newest revision of a specification. */
    static Optional<KeptSpecification> newest(Handle handle, String name) {
        return handle.createQuery(NEWEST + " AND s.name = :name")
                .bind("name", name)
                .map(ROW)
                .findOne();
    }

    /** The newest revisions of all, by name. */
    static List<KeptSpecification> newest(Handle handle) {
        return handle.createQuery(NEWEST + " ORDER BY s.name").map(ROW).list();
    }
}
