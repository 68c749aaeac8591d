package ohmprint.library;

import java.sql.SQLException;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jspecify.annotations.Nullable;

/** Removes measurements, each with its record. */
final class Removing {
    private static final RowMapper<Removal> REMOVAL = (r, context) -> new Removal(
            r.getString("id"),
            r.getString("sha256"),
            r.getString("label"),
            r.getString("reason"),
            r.getString("made_by"),
            Instant.parse(r.getString("made_at")));

    private Removing() {}

    /** Removes an entry and, if it was the last of it, its microphone. */
    static void remove(Handle handle, Entry entry, String reason, String by) throws SQLException {
        Instant now = Instant.now();
        Map<String, @Nullable Object> record = new LinkedHashMap<>();
        record.put("id", entry.id());
        record.put("sha256", entry.sha256());
        record.put("label", entry.label());
        record.put("reason", reason);
        record.put("made_by", by);
        // Clocks differ between machines; the record of a removal is never older than what it removes.
        record.put("made_at", Stamp.of(now.isBefore(entry.addedAt()) ? entry.addedAt() : now));
        Rows.insert(handle, "removal", record);
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
                .map(REMOVAL)
                .findOne();
    }

    /** All removals, oldest first. */
    static List<Removal> all(Handle handle) {
        return handle.createQuery("SELECT * FROM removal ORDER BY made_at, id")
                .map(REMOVAL)
                .list();
    }
}
