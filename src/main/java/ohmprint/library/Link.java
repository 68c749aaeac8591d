package ohmprint.library;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/**
 * A link between two measurements: written once, never changed.
 *
 * @param kind what it says
 * @param from identifier of the older or earlier one
 * @param to identifier of the newer or later one
 * @param words reason or note
 * @param by who made it
 * @param at when
 */
public record Link(Kind kind, String from, String to, String words, String by, Instant at) {
    /** What a link says. */
    public enum Kind {
        /** The second takes the place of the first. */
        SUPERSEDED("supersession", "older", "newer", "reason"),
        /** The first is before, the second after a repair of the microphone. */
        REPAIRED("repair", "earlier", "later", "note");

        private final String table;
        private final String from;
        private final String to;
        private final String words;

        Kind(String table, String from, String to, String words) {
            this.table = table;
            this.from = from;
            this.to = to;
            this.words = words;
        }

        /** Its word in files: {@code superseded} or {@code repaired}. */
        public String word() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /**
     * Makes the link, within a transaction of the caller; one that is there already stays as it is.
     *
     * @return whether it is new
     * @throws LibraryException if the older one is superseded by another, or the link would close a circle
     */
    boolean make(Handle handle) throws LibraryException {
        if (from.equals(to)) {
            throw new LibraryException("a measurement cannot be linked with itself; name two, the older one first");
        }
        if (kind == Kind.SUPERSEDED) {
            Optional<String> next = next(handle, from);
            if (next.isPresent() && !next.get().equals(to)) {
                throw new LibraryException(
                        from + " is superseded by " + next.get() + " already; supersede that one instead");
            }
            for (Optional<String> at = next(handle, to); at.isPresent(); at = next(handle, at.get())) {
                if (at.get().equals(from)) {
                    throw new LibraryException(to + " is itself superseded by " + from + "; name the older one first");
                }
            }
        }
        return Database.insert(
                handle,
                kind.table,
                Map.of(kind.from, from, kind.to, to, kind.words, words, "made_by", by, "made_at", Database.time(at)));
    }

    private static Optional<String> next(Handle handle, String id) {
        return handle.createQuery("SELECT newer FROM supersession WHERE older = :id")
                .bind("id", id)
                .mapTo(String.class)
                .findOne();
    }

    /** All links of a measurement, or of all when null. */
    static List<Link> of(Handle handle, @Nullable String id) {
        List<Link> all = new ArrayList<>();
        for (Kind kind : Kind.values()) {
            String where = id == null ? "" : " WHERE %s = :id OR %s = :id".formatted(kind.from, kind.to);
            var query = handle.createQuery("SELECT * FROM " + kind.table + where + " ORDER BY made_at, " + kind.from);
            if (id != null) {
                query.bind("id", id);
            }
            all.addAll(query.map((r, context) -> new Link(
                            kind,
                            r.getString(kind.from),
                            r.getString(kind.to),
                            r.getString(kind.words),
                            r.getString("made_by"),
                            Instant.parse(r.getString("made_at"))))
                    .list());
        }
        return all;
    }
}
