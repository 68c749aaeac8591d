package ohmprint.library;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;
import org.jspecify.annotations.Nullable;

/** Finds measurements by what they are. */
final class Listing {
    private static final String ENTRY = "SELECT m.id, m.sha256, m.microphone, m.label, x.maker, x.model, x.serial,"
            + " x.transducer, m.measured_at, m.added_at, m.operator, m.note, m.route, m.verdict, m.findings, m.loads,"
            + " m.input, m.parallel_with_input, m.ohm_at_1khz, s.newer"
            + " FROM measurement m JOIN microphone x ON x.id = m.microphone"
            + " LEFT JOIN supersession s ON s.older = m.id";

    private final StringBuilder where = new StringBuilder();
    private final Map<String, Object> values = new LinkedHashMap<>();
    private boolean microphone;

    private Listing(Filter filter) {
        int n = 0;
        for (String word : filter.words()) {
            String name = "word" + n++;
            and("m.search_text LIKE :" + name + " ESCAPE '!'", name, "%" + escaped(lower(word)) + "%");
        }
        same("x.maker", "maker", filter.maker());
        same("x.model", "model", filter.model());
        same("x.serial", "serial", filter.serial());
        same("x.transducer", "transducer", filter.transducer());
        microphone = !where.isEmpty() && where.indexOf("x.") >= 0;
        same("m.operator", "operator", filter.operator());
        same("m.route", "route", filter.route());
        same("m.verdict", "verdict", filter.verdict());
        if (filter.since() != null) {
            and("m.measured_at >= :since", "since", Stamp.of(filter.since()));
        }
        if (filter.until() != null) {
            and("m.measured_at < :until", "until", Stamp.of(filter.until()));
        }
        if (!filter.superseded()) {
            and("NOT EXISTS (SELECT 1 FROM supersession o WHERE o.older = m.id)", null, "");
        }
    }

    /** The newest that pass a filter, no more than so many. */
    static Page page(Handle handle, Filter filter, int most) {
        Listing listing = new Listing(filter);
        int total = listing.bound(handle.createQuery("SELECT count(*)" + listing.from()))
                .mapTo(Integer.class)
                .one();
        // The choice is made in what is narrow; the wide rows are read for the chosen alone.
        String chosen = "SELECT m.id" + listing.from() + " ORDER BY m.measured_at DESC, m.id LIMIT :most";
        List<Entry> entries = listing.bound(
                        handle.createQuery(ENTRY + " WHERE m.id IN (" + chosen + ") ORDER BY m.measured_at DESC, m.id"))
                .bind("most", most)
                .map((r, context) -> entry(r))
                .list();
        return new Page(entries, total);
    }

    /** The entry with this identifier. */
    static Optional<Entry> entry(Handle handle, String id) {
        return handle.createQuery(ENTRY + " WHERE m.id = :id")
                .bind("id", id)
                .map((r, context) -> entry(r))
                .findOne();
    }

    /** Identifiers that begin so, two at most. */
    static List<String> beginning(Handle handle, String start) {
        return handle.createQuery("SELECT id FROM measurement WHERE id LIKE :start ORDER BY id LIMIT 2")
                .bind("start", start + "%")
                .mapTo(String.class)
                .list();
    }

    /** Identifiers of all that pass a filter, newest first. */
    static List<String> ids(Handle handle, Filter filter) {
        Listing listing = new Listing(filter);
        return listing.bound(handle.createQuery("SELECT m.id" + listing.from() + " ORDER BY m.measured_at DESC, m.id"))
                .mapTo(String.class)
                .list();
    }

    private String from() {
        return " FROM measurement m" + (microphone ? " JOIN microphone x ON x.id = m.microphone" : "")
                + (where.isEmpty() ? "" : " WHERE " + where);
    }

    private Query bound(Query query) {
        values.forEach(query::bind);
        return query;
    }

    private void same(String column, String name, @Nullable String value) {
        if (value != null) {
            and("(lower(" + column + ") = :" + name + " OR " + column + " = :" + name + "_exact)", name, lower(value));
            values.put(name + "_exact", value);
        }
    }

    private void and(String condition, @Nullable String name, String value) {
        where.append(where.isEmpty() ? "" : " AND ").append(condition);
        if (name != null) {
            values.put(name, value);
        }
    }

    private static String lower(String text) {
        return text.strip().toLowerCase(Locale.ROOT);
    }

    private static String escaped(String text) {
        return text.replace("!", "!!").replace("%", "!%").replace("_", "!_");
    }

    private static Entry entry(ResultSet r) throws SQLException {
        double ohms = r.getDouble("ohm_at_1khz");
        @Nullable Double ohmAt1kHz = r.wasNull() ? null : Double.valueOf(ohms);
        return new Entry(
                r.getString("id"),
                r.getString("sha256"),
                r.getString("microphone"),
                r.getString("label"),
                r.getString("maker"),
                r.getString("model"),
                r.getString("serial"),
                r.getString("transducer"),
                Instant.parse(r.getString("measured_at")),
                Instant.parse(r.getString("added_at")),
                r.getString("operator"),
                r.getString("note"),
                r.getString("route"),
                r.getString("verdict"),
                r.getString("findings"),
                r.getString("loads"),
                r.getString("input"),
                r.getInt("parallel_with_input") != 0,
                ohmAt1kHz,
                r.getString("newer"));
    }

    /** Those of many identifiers that are there, in the order given. */
    static List<Entry> entries(Handle handle, List<String> ids) {
        List<Entry> entries = new ArrayList<>();
        for (String id : ids) {
            entry(handle, id).ifPresent(entries::add);
        }
        return entries;
    }
}
