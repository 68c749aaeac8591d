package ohmprint.library;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/**
 * The record of a measurement that was removed.
 *
 * @param id its identifier
 * @param sha256 SHA-256 of its document
 * @param label what the bench called the microphone
 * @param reason why
 * @param by who; on a server its login
 * @param at when
 */
public record Removal(String id, String sha256, String label, String reason, String by, Instant at) {
    private static final String SELECT =
            "SELECT id, sha256, label, reason, made_by AS \"by\", made_at AS \"at\" FROM removal";
    private static final RowMapper<Removal> ROW = ConstructorMapper.of(Removal.class);

    /** Removes an entry, with its record, and its microphone if that was the last of it; in a transaction of the caller. */
    static void of(Handle handle, Entry entry, String reason, String by) {
        Instant now = Instant.now();
        // Clocks differ between machines; the record of a removal is never older than what it removes.
        Instant at = now.isBefore(entry.addedAt()) ? entry.addedAt() : now;
        handle.createUpdate("INSERT INTO removal (id, sha256, label, reason, made_by, made_at)"
                        + " VALUES (:id, :sha256, :label, :reason, :by, :at) ON CONFLICT DO NOTHING")
                .bindMethods(new Removal(entry.id(), entry.sha256(), entry.label(), reason, by, at))
                .execute();
        handle.createUpdate("DELETE FROM measurement WHERE id = :id")
                .bind("id", entry.id())
                .execute();
        handle.createUpdate("DELETE FROM microphone WHERE id = :id"
                        + " AND NOT EXISTS (SELECT 1 FROM measurement m WHERE m.microphone = microphone.id)")
                .bind("id", entry.microphoneId())
                .execute();
    }

    /** The latest removal of a document, if there is one. */
    static Optional<Removal> latest(Handle handle, String sha256) {
        return handle.createQuery(SELECT + " WHERE sha256 = :sha256 ORDER BY made_at DESC LIMIT 1")
                .bind("sha256", sha256)
                .map(ROW)
                .findOne();
    }

    /** All removals, oldest first. */
    static List<Removal> all(Handle handle) {
        return handle.createQuery(SELECT + " ORDER BY made_at, id").map(ROW).list();
    }
}
