package ohmprint.library;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import ohmprint.files.Sha256;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

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
            "SELECT name, revision, sha256, yaml, made_by AS \"by\", made_at AS \"at\" FROM specification s"
                    + " WHERE s.revision = (SELECT max(t.revision) FROM specification t WHERE t.name = s.name)";

    private static final RowMapper<KeptSpecification> ROW = ConstructorMapper.of(KeptSpecification.class);

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
        KeptSpecification kept = new KeptSpecification(name, revision, sha256, yaml, by, at);
        int inserted = handle.createUpdate("INSERT INTO specification (name, revision, sha256, yaml, made_by, made_at)"
                        + " VALUES (:name, :revision, :sha256, :yaml, :by, :at) ON CONFLICT DO NOTHING")
                .bindMethods(kept)
                .execute();
        if (inserted == 0) {
            throw new LibraryException(
                    "the specification " + name + " was changed by another program at this moment; try again");
        }
        return kept;
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
