package ohmprint.library;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;

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
    private static final RowMapper<Removal> ROW = (r, context) -> new Removal(
            r.getString("id"),
            r.getString("sha256"),
            r.getString("label"),
            r.getString("reason"),
            r.getString("made_by"),
            Instant.parse(r.getString("made_at")));

    /** Removes an entry, with its record, and its microphone if that was the last of it; in a transaction of the caller. */
    static void of(Handle handle, Entry entry, String reason, String by) {
        Instant now = Instant.now();
        // Clocks differ between machines; the record of a removal is never older than what it removes.
        Instant at = now.isBefore(entry.addedAt()) ? entry.addedAt() : now;
        Database.insert(
                handle,
                "removal",
                Map.of(
                        "id", entry.id(),
                        "sha256", entry.sha256(),
                        "label", entry.label(),
                        "reason", reason,
                        "made_by", by,
                        "made_at", Database.time(at)));
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
        return handle.createQuery("SELECT * FROM removal WHERE sha256 = :sha256 ORDER BY made_at DESC LIMIT 1")
                .bind("sha256", sha256)
                .map(ROW)
                .findOne();
    }

    /** All removals, oldest first. */
    static List<Removal> all(Handle handle) {
        return handle.createQuery("SELECT * FROM removal ORDER BY made_at, id")
                .map(ROW)
                .list();
    }
}
