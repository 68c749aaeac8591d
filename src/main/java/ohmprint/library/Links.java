package ohmprint.library;

import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Links between measurements: written once, never changed. */
final class Links {
    private Links() {}

    /**
     * Makes a link; one that is there already stays as it is.
     *
     * @return whether it is new
     * @throws LibraryException if the older one is superseded by another, or the link would close a circle
     */
    static boolean make(Handle handle, Link link) throws LibraryException, SQLException {
        if (link.from().equals(link.to())) {
            throw new LibraryException("a measurement cannot be linked with itself; name two, the older one first");
        }
        if (link.kind() == Link.Kind.SUPERSEDED) {
            Optional<String> next = next(handle, link.from());
            if (next.isPresent() && !next.get().equals(link.to())) {
                throw new LibraryException(
                        link.from() + " is superseded by " + next.get() + " already; supersede that one instead");
            }
            for (Optional<String> at = next(handle, link.to()); at.isPresent(); at = next(handle, at.get())) {
                if (at.get().equals(link.from())) {
                    throw new LibraryException(
                            link.to() + " is itself superseded by " + link.from() + "; name the older one first");
                }
            }
        }
        Map<String, @Nullable Object> row = new LinkedHashMap<>();
        row.put(link.kind().from(), link.from());
        row.put(link.kind().to(), link.to());
        row.put(link.kind().words(), link.words());
        row.put("made_by", link.by());
        row.put("made_at", Stamp.of(link.at()));
        return Rows.insert(handle, link.kind().table(), row);
    }

    /** All links of a measurement, or of all when null. */
    static List<Link> of(Handle handle, @Nullable String id) {
        List<Link> all = new ArrayList<>();
        for (Link.Kind kind : Link.Kind.values()) {
            String where = id == null ? "" : " WHERE " + kind.from() + " = :id OR " + kind.to() + " = :id";
            var query =
                    handle.createQuery("SELECT * FROM " + kind.table() + where + " ORDER BY made_at, " + kind.from());
            if (id != null) {
                query.bind("id", id);
            }
            all.addAll(query.map((r, context) -> new Link(
                            kind,
                            r.getString(kind.from()),
                            r.getString(kind.to()),
                            r.getString(kind.words()),
                            r.getString("made_by"),
                            Instant.parse(r.getString("made_at"))))
                    .list());
        }
        return all;
    }

    private static Optional<String> next(Handle handle, String id) {
        return handle.createQuery("SELECT newer FROM supersession WHERE older = :id")
                .bind("id", id)
                .mapTo(String.class)
                .findOne();
    }
}
