package ohmprint.library;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Specifications by name; a changed text becomes another revision. */
final class Specifications {
    private static final String NEWEST =
            " s WHERE s.revision = (SELECT max(t.revision) FROM specification t WHERE t.name = s.name)";

    private Specifications() {}

    /**
     * Keeps a text under a name; the same text as the newest revision changes nothing.
     *
     * @return what is then kept under the name
     */
    static KeptSpecification put(Handle handle, String name, String yaml, String by, Instant at)
            throws LibraryException, SQLException {
        String sha256 = Digest.sha256(yaml);
        Optional<KeptSpecification> newest = newest(handle, name);
        if (newest.isPresent() && newest.get().sha256().equals(sha256)) {
            return newest.get();
        }
        int revision = newest.map(s -> s.revision() + 1).orElse(1);
        Map<String, @Nullable Object> row = new LinkedHashMap<>();
        row.put("name", name);
        row.put("revision", revision);
        row.put("sha256", sha256);
        row.put("yaml", yaml);
        row.put("made_by", by);
        row.put("made_at", Stamp.of(at));
        if (!Rows.insert(handle, "specification", row)) {
            throw new LibraryException(
                    "the specification " + name + " was changed by another program at this moment; try again");
        }
        return new KeptSpecification(name, revision, sha256, yaml, by, at);
    }

    static Optional<KeptSpecification> newest(Handle handle, String name) {
        return handle.createQuery("SELECT * FROM specification" + NEWEST + " AND s.name = :name")
                .bind("name", name)
                .map((r, context) -> kept(r))
                .findOne();
    }

    static List<KeptSpecification> newest(Handle handle) {
        return handle.createQuery("SELECT * FROM specification" + NEWEST + " ORDER BY s.name")
                .map((r, context) -> kept(r))
                .list();
    }

    private static KeptSpecification kept(ResultSet r) throws SQLException {
        return new KeptSpecification(
                r.getString("name"),
                r.getInt("revision"),
                r.getString("sha256"),
                r.getString("yaml"),
                r.getString("made_by"),
                Instant.parse(r.getString("made_at")));
    }
}
